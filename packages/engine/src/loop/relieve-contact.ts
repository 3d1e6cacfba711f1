import { floatVoltage, INDUCTIVE_SHARE, LAMP_INRUSH } from "../path/contact.ts";
import { figure } from "../path/judgement.ts";
import type { InterposingRelay } from "./loop-design.ts";
import { changed, type Draft, stuck } from "./repair.ts";
import { diodeAtLeast, relayContactAtLeast } from "./standard-sizes.ts";

/** Coil power of a small relay (memory). */
const COIL_W = 0.4;
/** The relay's contact is used to half its rating. */
const CONTACT_RESERVE = 2;

/** Current the contact must make: a cold lamp draws ten times its running current. */
function makeCurrentA(draft: Draft): number {
  const { load } = draft.loop;
  if (load === undefined) return 0;
  return load.kind === "lamp" ? LAMP_INRUSH * load.current : load.current;
}

/** Add a diode across a coil that has none. */
export function addDiode(draft: Draft): Draft {
  const { load } = draft.loop;
  if (load === undefined || load.kind !== "relay" || load.flybackDiode === true) return draft;
  const limit = INDUCTIVE_SHARE * draft.request.contact.current;
  const why =
    `Without it the contact may break about ${figure(limit, 3)} A of this coil's ${figure(load.current, 3)} A, ` +
    "and each break wears it.";
  const volts = diodeAtLeast(4 * (floatVoltage(draft.loop) ?? 0));
  const to = `diode of at least ${volts ?? 1000} V across the coil, cathode to positive`;
  return changed(draft, { load: { ...load, flybackDiode: true } }, { part: "diode", from: "none", to, why });
}

function relayFor(draft: Draft, volts: number): InterposingRelay | null {
  const contactA = relayContactAtLeast(CONTACT_RESERVE * makeCurrentA(draft));
  if (contactA === null) return null;
  const coilV = Math.min(draft.loop.supply ?? volts, draft.request.contact.voltage);
  return { coilV, coilA: COIL_W / coilV, contactA, contactV: volts };
}

/** Put a relay between the contact and a load that is too much for it. */
export function relieveContact(draft: Draft): Draft {
  const { contact } = draft.request;
  const { load } = draft.loop;
  const volts = floatVoltage(draft.loop);
  if (load === undefined || volts === undefined) return draft;
  const make = makeCurrentA(draft);
  const tooMuch = make > contact.current;
  const tooHigh = volts > contact.voltage;
  if (!tooMuch && !tooHigh) return draft;
  const relay = relayFor(draft, volts);
  if (relay === null || relay.coilA > contact.current) {
    return stuck(draft, `No usual relay makes ${figure(make)} A from this contact. Use a smaller load.`);
  }
  const why = tooHigh
    ? `The loop stands at ${figure(volts)} V and the contact is rated to ${figure(contact.voltage)} V.`
    : `The load draws ${figure(make, 2)} A at making and the contact may make ${figure(contact.current, 2)} A.`;
  const to =
    `relay with a coil of ${figure(relay.coilV)} V, ${figure(relay.coilA * 1000)} mA and a diode, ` +
    `contact of at least ${figure(relay.contactA)} A at ${figure(relay.contactV)} V direct current`;
  const relieved = changed(draft, {}, { part: "relay", from: "none", to, why });
  const eased = { ...relieved, relay };
  if (!tooHigh) return eased;
  return stuck(
    eased,
    `Feed the relay's coil from a separate supply of at most ${figure(contact.voltage)} V; the loop's own is too high for the contact.`,
  );
}
