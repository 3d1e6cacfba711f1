/** A place of the app, named by a word. */
export interface Place {
  readonly path: string;
  readonly name: string;
  /** What is done there, for the command palette. */
  readonly does: string;
  /** Leaves the top line to the places of a desk once somebody is signed in; "Go to…" still leads there. */
  readonly yields?: true;
}

export const PLACES: readonly Place[] = [
  { path: "/visits", name: "Visits", does: "find a damaged place from readings, with or without signal" },
  {
    path: "/sites",
    name: "Sites",
    does: "open a site file: duty, path, coverage, time to notice, loop",
    yields: true,
  },
  { path: "/advise", name: "Advise", does: "choose the alarm of a site from about ten answers" },
  { path: "/rules", name: "Rules", does: "every value of every rule pack with its source", yields: true },
  { path: "/learn", name: "Learn", does: "find ten practice faults", yields: true },
];
