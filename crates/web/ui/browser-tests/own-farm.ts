// An app of its own for tests that write: a new, empty folder and a free port for each test.
import { execFileSync, spawn } from "node:child_process";
import { copyFileSync, mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { createInterface } from "node:readline";
import { test as base } from "@playwright/test";

interface OwnFarm {
  /** Address of an app whose folder holds no book yet. */
  bare: string;
  /** Address of an app with a copy of the demonstration farm. */
  demo: string;
}

/** Makes the demonstration's book, or copies the one that SPADEWORK_BOOK names. */
function demonstration(binary: string, book: string): void {
  const given = process.env["SPADEWORK_BOOK"];
  if (given === undefined) execFileSync(binary, ["demo", "--no-serve", "--book", book], { stdio: "ignore" });
  else copyFileSync(given, book);
}

async function serve(withDemo: boolean, use: (address: string) => Promise<void>): Promise<void> {
  const binary = process.env["SPADEWORK_BIN"];
  if (binary === undefined) throw new Error("Name the built binary in SPADEWORK_BIN.");
  const folder = mkdtempSync(join(tmpdir(), "spadework-own-"));
  const own = join(folder, "farm.farmbook");
  if (withDemo) demonstration(binary, own);
  const app = spawn(binary, ["serve", own, "--port", "0"], { stdio: ["ignore", "pipe", "inherit"] });
  try {
    const address = await new Promise<string>((resolve, reject) => {
      app.once("exit", (code) => {
        reject(new Error(`The app ended with ${code ?? "a signal"}.`));
      });
      createInterface({ input: app.stdout }).on("line", (line) => {
        const found = /http:\/\/[^\s/]+/.exec(line);
        if (found !== null) resolve(found[0]);
      });
    });
    await use(address);
  } finally {
    app.kill();
    rmSync(folder, { recursive: true, force: true });
  }
}

export const test = base.extend<OwnFarm>({
  bare: async ({}, use) => {
    await serve(false, use);
  },
  demo: async ({}, use) => {
    await serve(true, use);
  },
});
