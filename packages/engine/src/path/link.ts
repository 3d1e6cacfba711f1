import type { MessagePath } from "../assess/site.ts";
import { invertersServed, type PathContext } from "./context.ts";
import { figure, type Remark } from "./judgement.ts";

const WEAK_AVAILABILITY = 0.95;
const SUPERVISION_MINUTES = 24 * 60;

function availabilityRemarks(link: MessagePath["link"]): readonly Remark[] {
  const availability = link?.availability;
  if (availability === 0) {
    return [
      {
        code: "PATH_LINK_DEAD",
        text: "The link is recorded as never up, so no message leaves the site. Restore it or use another signal.",
      },
    ];
  }
  const remarks: Remark[] = [];
  if (availability === undefined || link?.meanOutage === undefined) {
    const what = availability === undefined ? "availability" : "mean outage";
    const text = `The ${what} of the link is not stated, so it is judged as up 90 % of the time with outages of 24 h. Record it from the link's own history.`;
    remarks.push({ code: "PATH_LINK_UNKNOWN", text });
  }
  if (availability !== undefined && availability < WEAK_AVAILABILITY) {
    const text = `The link is up ${figure(availability * 100)} % of the time, so a message often waits for it. Improve it, or add a signal that does not need it.`;
    remarks.push({ code: "PATH_LINK_WEAK", text });
  }
  return remarks;
}

function supervisionRemarks(link: MessagePath["link"]): readonly Remark[] {
  const every = link?.supervisedEvery;
  if (every === undefined) {
    const text =
      "Nothing on record reports that the link went quiet, and a silent link looks like a healthy site. Have it report in daily, and treat silence as a fault.";
    return [{ code: "PATH_LINK_UNSUPERVISED", text }];
  }
  if (every <= SUPERVISION_MINUTES) return [];
  const text = `The link reports in every ${figure(every / 60)} h only, so it may be dead that long before anybody knows. Have it report in at least daily.`;
  return [{ code: "PATH_SUPERVISION_SLOW", text }];
}

/** Whether the link carries the message, whether its silence is noticed, and whether strangers can switch it off. */
export function judgeLink(path: MessagePath, context: PathContext): readonly Remark[] {
  const open = invertersServed(path, context).filter((inverter) => inverter.defaultPasswordChanged === false);
  const password: Remark[] = open.map((inverter) => ({
    code: "PATH_PASSWORD_DEFAULT",
    text: `${inverter.id} still has the maker's installer password; with it anybody can switch the message off or send it elsewhere. Change it and record that it was changed.`,
  }));
  return [...availabilityRemarks(path.link), ...supervisionRemarks(path.link), ...password];
}
