// Every page works without this script; it adds what only a script can do.
import "./styles/main.css";
import { focusSummary } from "./error-summary";
import { startTimers } from "./timer";

focusSummary(document);
startTimers(document);
