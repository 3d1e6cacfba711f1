import { remoteDesk } from "../../apps/web/src/desk/remote-desk.ts";
import { deviceDesk } from "../../apps/web/src/keep/device-desk.ts";
import { httpDesk } from "../../apps/web/src/keep/http-desk.ts";
import { CLAUSES } from "./desk-contract.ts";
import { HTTP_CLAUSES } from "./http-clauses.ts";

/** Holds every clause in the page it is loaded into; answers each sentence with what was wrong, or null. */
async function holdAll(): Promise<readonly (readonly [sentence: string, wrong: string | null])[]> {
  const both = httpDesk(deviceDesk, remoteDesk, () => undefined);
  const tried: [string, () => Promise<void>][] = [
    ...CLAUSES.map(({ sentence, hold }, i): [string, () => Promise<void>] => [
      `the device ${sentence}`,
      () => hold(deviceDesk, `device-${i}`),
    ]),
    ...CLAUSES.map(({ sentence, hold }, i): [string, () => Promise<void>] => [
      `the desk over HTTP ${sentence}`,
      () => hold(both, `shared-${i}`),
    ]),
    ...HTTP_CLAUSES.map(({ sentence, hold }, i): [string, () => Promise<void>] => [
      `the desk over HTTP ${sentence}`,
      () => hold(deviceDesk, remoteDesk, `handed-${i}`),
    ]),
  ];
  const results: [string, string | null][] = [];
  for (const [sentence, hold] of tried)
    results.push([
      sentence,
      await hold().then(
        () => null,
        (error: unknown) => String(error),
      ),
    ]);
  return results;
}

Object.assign(globalThis, { holdAll });
