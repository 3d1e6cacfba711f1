import { counted } from "../page/counted.ts";
import type { ToldPerson } from "./told-records.ts";

export const CHANNEL_WORDS = { email: "e-mail", sms: "text message", webhook: "webhook" } as const;

/** How a person is called: by what reaches them, since ids are each site's own. */
export function nameOf({ ways, of }: ToldPerson): string {
  return ways[0]?.address ?? `${of.person} at ${of.site}, without an address`;
}

export function addressOfPage({ of }: ToldPerson): string {
  return `/people/at/${encodeURIComponent(of.site)}/${encodeURIComponent(of.person)}`;
}

/** `reads Mon-Fri 07:00-17:00, 20 looks a day`. */
export function habitsWords({ reads, checksPerDay }: ToldPerson["habits"][number]): string {
  const hours = reads === null ? "hours not known" : `reads ${reads}`;
  const looks = checksPerDay === null ? "looks a day not known" : `${counted(checksPerDay, "look")} a day`;
  return `${hours}, ${looks}`;
}

/** Once for all sites, or that they differ. */
export function allHabitsWords({ habits }: ToldPerson): string {
  const [first] = habits;
  if (first === undefined) return "";
  return habits.length === 1
    ? habitsWords(first)
    : `${habitsWords(first)} at ${first.sites} of ${habits.reduce((sum, { sites }) => sum + sites, 0)}; differs elsewhere`;
}
