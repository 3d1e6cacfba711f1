/** What is asked for at each address of the desk, many of it and one. */
const ASKED: ReadonlyMap<string, readonly [many: string, one?: string]> = new Map(
  Object.entries({
    now: ["what needs a person"],
    me: ["who is signed in here"],
    join: ["what this link opens"],
    sites: ["the sites", "this site"],
    "site-names": ["the names of the sites"],
    record: ["the file of this site"],
    history: ["the insulation history"],
    commissioning: ["the commissioning"],
    "insulation-tests": ["the insulation tests"],
    "case-lines": ["the cases"],
    cases: ["the cases", "this case"],
    visits: ["the visits", "this visit"],
    photos: ["the photo"],
    drills: ["the drills"],
    "told-people": ["the people who are told", "this person"],
    people: ["the people who sign in"],
    "owner-links": ["the links for owners"],
    messages: ["the messages"],
    "broken-addresses": ["the addresses that reach nobody"],
    listeners: ["what the desk listens by"],
    drift: ["the drift of the arrays"],
    "paper-states": ["the papers"],
    papers: ["the papers"],
    "setting-sheets": ["the setting sheets"],
    rules: ["the rules"],
    settings: ["the settings"],
    journal: ["the journal"],
  } satisfies Record<string, readonly [string, string?]>),
);

/** What a question to the desk asks for: `/api/cases/C1` asks for "this case". */
function askedFor(path: string): string {
  const [, , first = "", which, ...within] = path.replace(/\?.*/u, "").split("/");
  const view = within.findLast((one) => ASKED.has(one));
  if (view !== undefined) return ASKED.get(view)![0];
  const [many, one] = ASKED.get(first) ?? ["what this page shows"];
  return which === undefined ? many : (one ?? many);
}

/**
 * What a person is told when the desk gave no answer: of a question what is missing now, of anything else whether it was done.
 *
 * @param online  whether the device takes itself to have signal; where it does, a request may have arrived and its answer got lost
 */
export function unreachedWords(method: string, path: string, online: boolean): string {
  const why = online ? "The desk does not answer" : "This device has no signal";
  if (method === "GET") {
    const then = online ? "See that this device has signal, then load" : "Once it has, load";
    return `${why}: ${askedFor(path)} could not be fetched just now. ${then} the page again.`;
  }
  return online
    ? `${why}: whether it was reached by this is not known. Once it answers, look whether this is done before you do it again.`
    : `${why}: nothing was sent. Once it has, do this again.`;
}
