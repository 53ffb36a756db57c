/**
 * Timers that say how long until something is due.
 *
 * The moment itself comes from the page (`data-due`), so a timer goes on when the browser was
 * closed and opened again; without script the page still says when.
 */

const SECOND = 1000;
const MINUTE = 60 * SECOND;
const HOUR = 60 * MINUTE;
const DAY = 24 * HOUR;

/** Time left in the two largest units that matter: "1 d 3 h", "4 min 05 s", "due now". */
export function timeLeft(ms: number): string {
  if (ms < -MINUTE) return `due ${timeLeft(-ms)} ago`;
  if (ms <= 0) return "due now";
  const days = Math.floor(ms / DAY);
  const hours = Math.floor((ms % DAY) / HOUR);
  const minutes = Math.floor((ms % HOUR) / MINUTE);
  const seconds = Math.floor((ms % MINUTE) / SECOND);
  if (days > 0) return `${days} d ${hours} h`;
  if (hours > 0) return `${hours} h ${minutes} min`;
  if (minutes > 0) return `${minutes} min ${seconds.toString().padStart(2, "0")} s`;
  return `${seconds} s`;
}

/** Shows one timer as it stands at `now`; gives whether it can be shown. */
export function showTimer(timer: HTMLElement, now: number): boolean {
  const due = Date.parse(timer.dataset["due"] ?? "");
  const place = timer.querySelector<HTMLElement>(".timer-left");
  if (Number.isNaN(due) || place === null) return false;
  const left = due - now;
  place.textContent = left > 0 ? `${timeLeft(left)} to go` : timeLeft(left);
  timer.classList.toggle("timer-due", left <= 0);
  return true;
}

/** Runs every timer of the page, each second. */
export function startTimers(root: ParentNode): void {
  const timers = [...root.querySelectorAll<HTMLElement>(".timer[data-due]")];
  const tick = (): void => {
    const running = timers.map((timer) => showTimer(timer, Date.now()));
    if (running.some(Boolean)) setTimeout(tick, SECOND);
  };
  if (timers.length > 0) tick();
}
