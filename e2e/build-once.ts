import { execFileSync } from "node:child_process";

/** The end-to-end tests run what is shipped, so it is built once before them. */
export default function buildOnce(): void {
  execFileSync("node", ["tools/build.mjs"], { stdio: "inherit" });
}
