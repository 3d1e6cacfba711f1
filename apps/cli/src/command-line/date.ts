import type { UsageFault } from "./usage-fault.ts";

/** A calendar date as the user gave it, or what is wrong with it. */
export function checkDate(option: string, text: string): UsageFault | null {
  if (isCalendarDate(text)) return null;
  return {
    code: "COMMAND_VALUE_UNKNOWN",
    message: `--${option} needs a date of the calendar as YYYY-MM-DD, and ${JSON.stringify(text)} is none.`,
    suggestions: [`--${option} 2026-02-03`],
    lead: "example",
  };
}

/** YYYY-MM-DD, and a day that exists. */
export function isCalendarDate(text: string): boolean {
  if (!/^\d{4}-\d{2}-\d{2}$/u.test(text)) return false;
  const instant = new Date(`${text}T00:00:00Z`);
  return !Number.isNaN(instant.getTime()) && instant.toISOString().startsWith(text);
}
