// Starts the app once for a whole run, on a free port, and stops it afterwards.
//
// SPADEWORK_BIN names the built binary; SPADEWORK_BOOK a farm book to open. The book is copied
// first, so that a run never changes it.
import { type ChildProcess, spawn } from "node:child_process";
import { copyFileSync, mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { createInterface } from "node:readline";

const WAIT_MS = 20_000;

export default async function startApp(): Promise<() => void> {
  const binary = process.env["SPADEWORK_BIN"];
  if (binary === undefined) {
    throw new Error("Name the built binary in SPADEWORK_BIN, for example target/debug/spadework.");
  }
  const folder = mkdtempSync(join(tmpdir(), "spadework-browser-"));
  const book = join(folder, "farm.farmbook");
  const given = process.env["SPADEWORK_BOOK"];
  if (given !== undefined) copyFileSync(given, book);

  const app = spawn(binary, ["serve", book, "--port", "0"], { stdio: ["ignore", "pipe", "inherit"] });
  process.env["SPADEWORK_URL"] = await address(app);
  return () => {
    app.kill();
    rmSync(folder, { recursive: true, force: true });
  };
}

/** The address that the app prints when it answers. */
function address(app: ChildProcess): Promise<string> {
  return new Promise((resolve, reject) => {
    const timer = setTimeout(() => {
      app.kill();
      reject(new Error("The app printed no address."));
    }, WAIT_MS);
    app.once("error", reject);
    app.once("exit", (code) => {
      reject(new Error(`The app ended with ${code ?? "a signal"}.`));
    });
    if (app.stdout === null) return;
    createInterface({ input: app.stdout }).on("line", (line) => {
      const found = /http:\/\/[^\s/]+/.exec(line);
      if (found === null) return;
      clearTimeout(timer);
      resolve(found[0]);
    });
  });
}
