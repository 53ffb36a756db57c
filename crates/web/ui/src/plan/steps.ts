/** What was done, to go back and forth in. */

/** How many steps are kept. */
const MOST = 500;

/** Steps of any kind: those done and those taken back. */
export class Steps<Step> {
  private done: Step[] = [];
  private taken: Step[] = [];

  /** A new step; what had been taken back before it is gone. */
  add(step: Step): void {
    this.done.push(step);
    if (this.done.length > MOST) this.done.shift();
    this.taken = [];
  }

  last(): Step | undefined {
    return this.done[this.done.length - 1];
  }

  next(): Step | undefined {
    return this.taken[this.taken.length - 1];
  }

  /** Moves the last step to those taken back, and gives it. */
  back(): Step | undefined {
    const step = this.done.pop();
    if (step !== undefined) this.taken.push(step);
    return step;
  }

  /** Moves the step taken back last to those done, and gives it. */
  forth(): Step | undefined {
    const step = this.taken.pop();
    if (step !== undefined) this.done.push(step);
    return step;
  }

  clear(): void {
    this.done = [];
    this.taken = [];
  }
}
