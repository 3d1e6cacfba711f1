import { deviceDesk } from "../keep/device-desk.ts";
import { type HttpDesk, httpDesk } from "../keep/http-desk.ts";
import { Sending, type SendTrouble } from "../keep/sending.ts";
import { DeskFault, passes } from "./ask-desk.ts";
import { remoteDesk } from "./remote-desk.ts";
import { currentSession, watchSession } from "./session.ts";

const NO_SIGNAL: SendTrouble = { later: true, text: "There is no signal to the desk." };
const SIGNED_OUT: SendTrouble = { later: false, text: "Sign in at the desk, and it is sent." };
const SIGNED_OUT_CODES = /^REQUEST_TOKEN_/u;

function troubleFrom(error: unknown): SendTrouble {
  if (!(error instanceof DeskFault)) {
    const words = error instanceof Error ? error.message : String(error);
    return { later: false, text: `This device could not read what it kept: ${words}` };
  }
  if (SIGNED_OUT_CODES.test(error.code)) return SIGNED_OUT;
  if (passes(error) || error.code === "DESK_ABSENT") return NO_SIGNAL;
  const fields = error.fields.map(({ field, message }) => ` ${field}: ${message}.`).join("");
  return { later: false, text: `The desk did not take it (${error.code}): ${error.message}${fields}` };
}

/** This device together with the desk that serves the page. */
export const sharedDesk: HttpDesk = httpDesk(deviceDesk, remoteDesk, (visit) => {
  sending.send(visit);
});

export const sending = new Sending({
  desk: () => sharedDesk,
  troubleFrom,
  after: (work, ms) => {
    setTimeout(work, ms);
  },
});

/** Also where nobody can be asked: each visit then says why it waits, and tries again by itself. */
function sendWhenKnown(): void {
  if (currentSession().state !== "asking") sending.sendAll();
}
watchSession(sendWhenKnown);
// The page may have heard of the desk before this was fetched.
sendWhenKnown();
window.addEventListener("online", sending.sendAll);
document.addEventListener("visibilitychange", () => {
  if (document.visibilityState === "visible") sending.sendAll();
});
