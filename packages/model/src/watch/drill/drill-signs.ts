import { grounds, instantText } from "../grounds.ts";
import type { Sign } from "../sign.ts";
import { type Drill, silentOnes } from "./drill.ts";

/**
 * What an ended drill says of each of its recipients: somebody who did not answer in time is not proven to be reached by the
 * path, until a later drill finds otherwise. Feeds the alarms of the path; none while the drill runs.
 */
export function drillSigns(drill: Drill): readonly Sign[] {
  const { id, site, path, ended, recipients } = drill;
  if (ended === null) return [];
  const silent = new Set(silentOnes(drill));
  return recipients.map(({ person }): Sign => {
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
}
