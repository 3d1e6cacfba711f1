/** Magnus coefficients of Alduchov and Eskridge 1996 [memory]; over water, −40 to 50 °C. */
const MAGNUS = { b: 17.625, c: 243.04 } as const;

/**
 * Dew point of air by the Magnus formula.
 *
 * @param temperatureC     air temperature [°C], −40 to 50
 * @param humidityPercent  relative humidity, above 0, up to 100
 * @returns [°C]; at 100 % the air temperature itself
 * Accuracy: 0.012 K against ASHRAE relations from 5 to 30 °C. Check: checks/history-dew-point
 */
export function dewPoint(temperatureC: number, humidityPercent: number): number {
  const { b, c } = MAGNUS;
  const gamma = Math.log(humidityPercent / 100) + (b * temperatureC) / (c + temperatureC);
  return (c * gamma) / (b - gamma);
}

/**
 * Surface of the modules, estimated: a clear dawn sky cools the glass below the air, the sun warms it above.
 *
 * Cooling of 2 K in the dark and 0.03 K per W/m² of sun are rough middles, since sky and wind are not recorded.
 * Source: design choice.
 */
export function estimatedSurfaceC(temperatureC: number, irradianceWm2 = 0): number {
  return temperatureC - 2 + 0.03 * irradianceWm2;
}
