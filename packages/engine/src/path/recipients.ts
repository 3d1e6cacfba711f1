import type { MessagePath, Person } from "../assess/site.ts";
import { personById, type PathContext } from "./context.ts";
import { listed, type Remark } from "./judgement.ts";

/** The people a message can reach, and why the others were not counted. */
export interface Recipients {
  /** Distinct people with an address of their own who hold the post and read messages. */
  readonly reachable: readonly Person[];
  readonly remarks: readonly Remark[];
}

/** Every address of a person, spelled so that equal mailboxes compare equal. */
function addressesOf(person: Person): readonly string[] {
  const { email, phone, webhook } = person.address ?? {};
  const spelled = [email?.trim().toLowerCase(), phone?.replace(/[^\d+]/g, ""), webhook?.trim()];
  return spelled.filter((address): address is string => address !== undefined && address !== "");
}

/** An office-hours stand-in is used for missing habits, so only an explicit zero says that somebody never reads. */
function neverReads(person: Person): boolean {
  const minutes = person.reads?.reduce((sum, span) => sum + Math.max(0, span.toMinute - span.fromMinute), 0);
  return minutes === 0 || person.checksPerDay === 0;
}

function obstacle(person: Person, onDate: string | undefined): Remark | undefined {
  if (addressesOf(person).length === 0) {
    return {
      code: "PATH_RECIPIENT_NO_ADDRESS",
      text: `${person.id} has no address, so nothing can be sent there. Record an e-mail address or a telephone number.`,
    };
  }
  if (person.until !== undefined && onDate === undefined) {
    const text = `The post of ${person.id} ends on ${person.until}; no date of judgement was given, so this person is not counted. Give the date.`;
    return { code: "PATH_RECIPIENT_END_NOT_JUDGED", text };
  }
  if (person.until !== undefined && onDate !== undefined && onDate > person.until) {
    const text = `The post of ${person.id} ended on ${person.until}, so a message sent there is answered by nobody. Name a successor.`;
    return { code: "PATH_RECIPIENT_LEFT", text };
  }
  if (neverReads(person)) {
    const text = `${person.id} has no reading hours or looks zero times a day, so a message sent there is not read. Correct this or name somebody who reads.`;
    return { code: "PATH_RECIPIENT_NEVER_READS", text };
  }
  return undefined;
}

function habitRemarks(person: Person, onDate: string | undefined): readonly Remark[] {
  const remarks: Remark[] = [];
  const absence = onDate && person.away?.find(({ from, to }) => from <= onDate && onDate <= to);
  if (absence) {
    const text = `${person.id} is away from ${absence.from} to ${absence.to} and will not answer. Name a stand-in for that time.`;
    remarks.push({ code: "PATH_RECIPIENT_AWAY", text });
  }
  const missing = [
    ...(person.reads === undefined ? ["the reading hours"] : []),
    ...(person.checksPerDay === undefined ? ["the number of looks a day"] : []),
  ];
  if (missing.length > 0) {
    const text = `${listed(missing)} of ${person.id} are not stated, so one look a day is assumed, Monday to Friday 09:00-17:00. Ask and record them.`;
    remarks.push({
      code: "PATH_RECIPIENT_HABITS_UNKNOWN",
      text: text.charAt(0).toUpperCase() + text.slice(1),
    });
  }
  return remarks;
}

function countRemark(reachable: number): readonly Remark[] {
  if (reachable === 0) {
    const text =
      "The message reaches nobody who has an address, reads messages and still holds the post. Name at least two people who do.";
    return [{ code: "PATH_RECIPIENTS_NONE", text }];
  }
  if (reachable > 1) return [];
  const text =
    "The message reaches one person only: one illness or one full mailbox, and the alarm is lost. Add a second person with an address of their own.";
  return [{ code: "PATH_RECIPIENTS_TOO_FEW", text }];
}

/** Who of the people named by the path a message reaches on the day of the judgement. */
export function reachableRecipients(path: MessagePath, context: PathContext): Recipients {
  const reachable: Person[] = [];
  const remarks: Remark[] = [];
  const taken = new Map<string, string>();
  for (const id of new Set(path.to)) {
    const person = personById(id, context);
    if (person === undefined) {
      remarks.push({
        code: "PATH_RECIPIENT_UNKNOWN",
        text: `The path names ${id}, who is not among the people of this site, so nothing can be sent. Add the person, or take the name off the path.`,
      });
      continue;
    }
    const blocked = obstacle(person, context.onDate);
    if (blocked) {
      remarks.push(blocked);
      continue;
    }
    const own = addressesOf(person).filter((address) => !taken.has(address));
    if (own.length === 0) {
      const other = taken.get(addressesOf(person)[0]!)!;
      const text = `${id} has the same address as ${other}, so the two fail together and count as one. Give each person an address of their own.`;
      remarks.push({ code: "PATH_RECIPIENT_SAME_ADDRESS", text });
      continue;
    }
    for (const address of own) taken.set(address, id);
    reachable.push(person);
    remarks.push(...habitRemarks(person, context.onDate));
  }
  return { reachable, remarks: [...countRemark(reachable.length), ...remarks] };
}
