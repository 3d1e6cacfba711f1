import type { MessagePath } from "../assess/site.ts";
import { invertersServed, type PathContext } from "./context.ts";
import { figure, type Remark } from "./judgement.ts";

const WEAK_AVAILABILITY = 0.95;
const SUPERVISION_MINUTES = 24 * 60;

function availabilityRemarks(link: MessagePath["link"]): readonly Remark[] {
  const availability = link?.availability;
  if (availability === 0) {
    return [
      { code: "PATH_LINK_DEAD", text: "The link is recorded as never up. No message leaves the site." },
    ];
  }
  const remarks: Remark[] = [];
  if (availability === undefined || link?.meanOutage === undefined) {
    const what = availability === undefined ? "availability" : "mean outage";
    const text = `The ${what} of the link is not stated; judged as up 90 % of the time with outages of 24 h. Record it.`;
    remarks.push({ code: "PATH_LINK_UNKNOWN", text });
  }
  if (availability !== undefined && availability < WEAK_AVAILABILITY) {
    const text = `The link is up ${figure(availability * 100)} % of the time. Add a signal that does not need it.`;
    remarks.push({ code: "PATH_LINK_WEAK", text });
  }
  return remarks;
}

function supervisionRemarks(link: MessagePath["link"]): readonly Remark[] {
  const every = link?.supervisedEvery;
  if (every === undefined) {
    const text =
      "No supervision of the link is on record: silence looks like a healthy site. Have it report in daily.";
    return [{ code: "PATH_LINK_UNSUPERVISED", text }];
  }
  if (every <= SUPERVISION_MINUTES) return [];
  const text = `The link reports in every ${figure(every / 60)} h only. Have it report in at least daily.`;
  return [{ code: "PATH_SUPERVISION_SLOW", text }];
}

/** Whether the link carries the message, whether its silence is noticed, and whether strangers can switch it off. */
export function judgeLink(path: MessagePath, context: PathContext): readonly Remark[] {
  const open = invertersServed(path, context).filter((inverter) => inverter.defaultPasswordChanged === false);
  const password: Remark[] = open.map((inverter) => ({
    code: "PATH_PASSWORD_DEFAULT",
    text: `The installer password of ${inverter.id} is still the delivered one. Change it and record it.`,
  }));
  return [...availabilityRemarks(path.link), ...supervisionRemarks(path.link), ...password];
}
