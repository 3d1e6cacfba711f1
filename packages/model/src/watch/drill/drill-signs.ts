import { grounds, instantText } from "../grounds.ts";
import type { Sign } from "../sign.ts";
import { silentOnes } from "./drill.ts";
import type { Drill } from "./drill-record.ts";
import { beaconsText, unseenBeacons } from "./drill-beacon.ts";

/**
 * What an ended drill says of each of its recipients: somebody who did not answer in time is not proven to be reached by the
 * path, until a later drill finds otherwise. A beacon that nobody saw is said of the path as a whole. Feeds the alarms of the path;
 * none while the drill runs.
 */
export function drillSigns(drill: Drill): readonly Sign[] {
  const { id, site, path, ended, recipients } = drill;
  if (ended === null) return [];
  const silent = new Set(silentOnes(drill));
  const ofPeople = recipients.map(({ person }): Sign => {
    const change = silent.has(person) ? "set" : "cleared";
    const text =
      change === "set"
        ? `${person} did not answer drill ${id} of path ${path} by ${instantText(drill.answerByAt)}. A fault may not reach ${person}: find out why, and hold the drill again.`
        : `${person} answered drill ${id} of path ${path}.`;
    return {
      site,
      subject: { kind: "path", path, person },
      sign: "drill-missed",
      change,
      at: ended.at,
      key: JSON.stringify([site, path, person, "drill-missed", change, id]),
      reason: grounds(text),
    };
  });
  return [...ofPeople, signOfBeacons(drill, ended.at)];
}

function signOfBeacons(drill: Drill, at: number): Sign {
  const { id, site, path } = drill;
  const unseen = unseenBeacons(drill).map(({ beacon }) => beacon);
  const change = unseen.length > 0 ? "set" : "cleared";
  const text =
    change === "set"
      ? `Nobody said by ${instantText(drill.answerByAt)} that they saw ${beaconsText(unseen)} burn for drill ${id} of path ${path}. A fault may go unseen there: look whether it works, and hold the drill again.`
      : `Drill ${id} of path ${path} left no beacon unseen.`;
  return {
    site,
    subject: { kind: "path", path, person: null },
    sign: "drill-missed",
    change,
    at,
    key: JSON.stringify([site, path, null, "drill-missed", change, id]),
    reason: grounds(text),
  };
}
