import { locate, type Visit } from "@earthbell/engine";

/** Runs inside the browser. Times of one finding each [ms]: the first as it comes to a cold page, then the rest. */
function timesOf(visit: Visit, runs: number): number[] {
  return Array.from({ length: runs }, () => {
    const started = performance.now();
    locate(visit);
    return performance.now() - started;
  });
}

interface Asked {
  readonly data: { readonly visit: Visit; readonly runs: number };
}

/** The page or the worker into which this is loaded, as far as it is used here. */
interface Place {
  readonly document?: unknown;
  timesOf: typeof timesOf;
  addEventListener(kind: "message", heard: (asked: Asked) => void): void;
  postMessage(times: readonly number[]): void;
}

const place = globalThis as unknown as Place;
place.timesOf = timesOf;
if (place.document === undefined)
  place.addEventListener("message", ({ data }) => {
    place.postMessage(timesOf(data.visit, data.runs));
  });
