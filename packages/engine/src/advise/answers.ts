import type { Inverter, ModuleType, Person, Place, PvArray, WeeklyHours } from "../assess/site.ts";
import type { Celsius, Metres, VoltAmperes } from "../quantity/index.ts";

/** How data get from the inverter to the world, if they do. */
export type Network = "none" | "owners-router" | "own-line" | "mobile";

/** What an installer knows of a site before its alarm is chosen. An answer that is absent is unknown. */
export interface AdviceAnswers {
  readonly id?: string;
  readonly name?: string;
  readonly place?: Place;
  /** Calendar date of the installation, YYYY-MM-DD. */
  readonly installed?: string;
  /** Modules in each string. */
  readonly strings?: readonly number[];
  readonly module?: Omit<ModuleType, "id">;
  readonly lowestTemperature?: Celsius;
  readonly inverter?: { readonly ratedPower: VoltAmperes; readonly separation?: Inverter["separation"] };
  readonly earthing?: NonNullable<PvArray["earthing"]>;
  readonly mounting?: NonNullable<PvArray["mounting"]>;
  /** Who can be told of a fault and when they read. */
  readonly people?: readonly Person[];
  /** Hours in which somebody is on the site where a sounder would be heard. */
  readonly present?: WeeklyHours;
  readonly network?: Network;
  /** Where the inverter's own light is: how often somebody passes, how near, and whether people may go there. */
  readonly light?: {
    readonly passesPerDay?: number;
    readonly viewingDistance?: Metres;
    readonly accessible?: boolean;
  };
  /** The inverter's fault contact. */
  readonly relay?: "none" | "any-fault" | "earth-fault";
}

/** An answer that decides something; the name and id of the site do not. */
export type QuestionId = Exclude<keyof AdviceAnswers, "id" | "name">;
