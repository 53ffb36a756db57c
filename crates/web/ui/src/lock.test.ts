// The lock file fixes what is installed by its hash, and names no server: each reader has its own.
import { readFileSync } from "node:fs";
import { expect, it } from "vitest";

interface Lock {
  packages: Record<string, { resolved?: string; integrity?: string }>;
}

it("pins every package by hash and names no server", () => {
  const lock = JSON.parse(readFileSync("package-lock.json", "utf8")) as Lock;
  const packages = Object.entries(lock.packages).filter(([path]) => path !== "");
  expect(packages.length).toBeGreaterThan(50);
  expect(packages.filter(([, entry]) => entry.resolved !== undefined).map(([path]) => path)).toEqual([]);
  expect(packages.filter(([, entry]) => entry.integrity === undefined).map(([path]) => path)).toEqual([]);
});
