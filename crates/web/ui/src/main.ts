// Every page works without this script; it adds what only a script can do.
import "./styles/main.css";
import { moveInTables, pressOwnButton } from "./enter";
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

// The drawing table of the plan is large, and comes only where there is a plan.
const plan = document.querySelector<HTMLElement>("[data-plan]");
if (plan !== null) void import("./plan").then(({ start_plan }) => start_plan(plan));
moveInTables(document);
pressOwnButton(document);
