import type { HistoryReading, HistorySeries } from "@earthbell/engine";

const WEATHER = [
  ["temperatureC", "temperature (°C)"],
  ["humidityPercent", "humidity (%)"],
  ["rainMm", "rain (mm)"],
  ["irradianceWm2", "irradiance (W/m²)"],
] as const satisfies readonly (readonly [keyof HistoryReading, string])[];

/** Readings as a table that `readHistoryTable` reads back. */
export function historyTableText(series: readonly HistorySeries[]): string {
  const noted = WEATHER.filter(([field]) =>
    series.some(({ readings }) => readings.some((reading) => reading[field] !== undefined)),
  );
  const head = ["instant", "array", "insulation (Ω)", ...noted.map(([, name]) => name)].join(",");
  const rows = series.flatMap(({ array, readings }) =>
    readings.map((reading) => {
      const instant = new Date(reading.at).toISOString().replace(".000Z", "Z");
      const value = `${boundSign(reading)}${reading.ohms}`;
      return [instant, quoted(array), value, ...noted.map(([field]) => String(reading[field] ?? ""))].join(
        ",",
      );
    }),
  );
  return [head, ...rows, ""].join("\n");
}

function boundSign({ bound }: HistoryReading): string {
  if (bound === undefined) return "";
  return bound === "at-least" ? ">" : "<";
}

function quoted(text: string): string {
  return /[",\n;]/u.test(text) ? `"${text.replaceAll('"', '""')}"` : text;
}
