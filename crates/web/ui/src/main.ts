// Every page works without this script; it adds what only a script can do.
import "./styles/main.css";
import { focusSummary } from "./error-summary";
import { startFilms } from "./film";
import { lookWhileTyping } from "./look";
import { offerNotSeen } from "./not-seen";
import { followAnswers } from "./only-when";
import { startTimers } from "./timer";

focusSummary(document);
startTimers(document);
offerNotSeen(document);
followAnswers(document);
lookWhileTyping(document);
startFilms(document);
