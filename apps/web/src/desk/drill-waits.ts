import { beaconsLitBy, type Drill, unseenBeacons } from "@earthbell/model";
import { instantWords } from "./instant.ts";

/** For whom a drill that runs still waits, and which beacons burn for it. */
export function drillWaits(drill: Drill, now: number): string {
  const people = drill.recipients.filter(({ acknowledgedAt }) => acknowledgedAt === null);
  const waits = [
    ...people.map(({ person }) => person),
    ...unseenBeacons(drill).map(({ beacon }) => `somebody who saw beacon ${beacon} burn`),
  ];
  const lit = beaconsLitBy(drill, now).map(({ beacon, saysDrill, litUntilAt }) => {
    const until = `Beacon ${beacon} burns for it until ${instantWords(litUntilAt)} at the longest`;
    return saysDrill ? `${until}.` : `${until}, and cannot show that it is a drill.`;
  });
  return [`A drill waits for ${waits.join(", ")}.`, ...lit].join(" ");
}
