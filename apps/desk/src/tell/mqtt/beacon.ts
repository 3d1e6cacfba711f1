import { beaconState, type DrillLight, type RaisedMatter } from "@earthbell/model";
import type { Envelope } from "../channel.ts";

/** Name of the format; docs/topics.md says what the fields mean. */
const FORMAT = "earthbell.beacon/1";

/** What a beacon's topic holds for lit and for out. */
export interface Payloads {
  readonly on: string;
  readonly off: string;
  /** For a drill; absent: `on`, since a beacon that does not burn proves nothing. */
  readonly drill?: string;
}

/**
 * What is published at the topic of a beacon: one of its payloads, or a record of everything that is raised and rehearsed. A
 * fault is always told as one, whatever drill is held.
 */
export function beaconPayload(envelope: Envelope, payloads: Payloads | undefined): string {
  const { raised = [], drills = [] } = envelope;
  const state = beaconState({ raised, drills });
  if (payloads !== undefined)
    return { raised: payloads.on, drill: payloads.drill ?? payloads.on, clear: payloads.off }[state];
  return JSON.stringify({
    format: FORMAT,
    beacon: envelope.person,
    state,
    raised: raised.map(recordOf),
    drills: drills.map(drillRecordOf),
    number: envelope.sequence,
    writtenAt: new Date(envelope.writtenAt).toISOString(),
  });
}

function recordOf({ sinceAt, ...raised }: RaisedMatter): object {
  return { ...raised, since: new Date(sinceAt).toISOString() };
}

function drillRecordOf({ sinceAt, untilAt, ...drill }: DrillLight): object {
  return { ...drill, since: new Date(sinceAt).toISOString(), until: new Date(untilAt).toISOString() };
}
