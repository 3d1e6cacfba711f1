/** The day before or after a calendar date, both YYYY-MM-DD. Proleptic Gregorian, no time zone in it. */
export function shiftDay(day: string, days: number): string {
  const [year, month, date] = day.split("-").map(Number);
  const shifted = new Date(Date.UTC(year!, month! - 1, date! + days));
  return shifted.toISOString().slice(0, 10);
}
