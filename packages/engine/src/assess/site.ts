import type {
  AmpereHours,
  Amperes,
  Candela,
  CandelaPerSquareMetre,
  Celsius,
  DecibelsA,
  Metres,
  Minutes,
  Ohms,
  PerKelvin,
  Ratio,
  SquareMetres,
  SquareMillimetres,
  VoltAmperes,
  Volts,
  VoltsPerKelvin,
  Watts,
} from "../quantity/index.ts";

/**
 * One site as its file states it. A field that is absent is unknown: what depends on it is undecided, or judged at its
 * worst with a word saying so. No default passes for data.
 */
export interface Site {
  readonly id: string;
  readonly name?: string;
  readonly place: Place;
  readonly lowestTemperature?: Celsius;
  readonly modules: readonly ModuleType[];
  readonly inverters: readonly Inverter[];
  readonly arrays: readonly PvArray[];
  readonly people: readonly Person[];
  readonly paths: readonly Path[];
  readonly proofs: readonly Proof[];
  readonly ownerInformed?: OwnerInformed;
  /** What is known here of things for which the program has a cautious default. */
  readonly assumptions?: {
    /** Share of earth faults that are below 1 kΩ when they appear. */
    readonly hardFaults?: Ratio;
  };
}

export interface Place {
  /** ISO 3166-1 alpha-2. */
  readonly country: string;
  /** ISO 3166-2 part after the hyphen (VIC, CA). */
  readonly region?: string;
  /** IANA zone. */
  readonly timezone?: string;
  readonly latitudeDeg?: number;
  readonly longitudeDeg?: number;
  /** The rule pack that binds here by adoption or by the installer's choice, where dates alone do not decide. */
  readonly rules?: { readonly pack?: string };
}

export interface ModuleType {
  readonly id: string;
  readonly technology?: "crystalline-silicon" | "thin-film";
  /** Rated power at standard test conditions. */
  readonly pmax: Watts;
  /** Open-circuit voltage at standard test conditions. */
  readonly voc: Volts;
  readonly isc?: Amperes;
  readonly vocTemperatureCoefficient?:
    | { readonly kind: "relative"; readonly perKelvin: PerKelvin }
    | { readonly kind: "absolute"; readonly voltsPerKelvin: VoltsPerKelvin };
  readonly area?: SquareMetres;
  readonly substrings?: number;
}

export interface Inverter {
  readonly id: string;
  readonly ratedPower: VoltAmperes;
  /** none: no galvanic separation between array and mains; simple: separated by a transformer. */
  readonly separation?: "none" | "simple";
  /** How modules reach the mains, where it is not an ordinary string inverter. */
  readonly kind?: "string" | "microinverter" | "ac-module" | "dc-dc" | "storage-coupled";
  readonly insulationCheck?: { readonly threshold?: Ohms; readonly at: readonly ("start" | "continuous")[] };
  readonly residualMonitor?: boolean;
  /** A fuse or breaker in the earth connection of a functionally earthed array, which opens on earth-fault current. */
  readonly earthFaultInterrupter?: { readonly rating?: Amperes };
  readonly where?: {
    readonly description?: string;
    readonly accessible?: boolean;
    readonly passesPerDay?: number;
    readonly viewingDistance?: Metres;
    /** What the inverter's own light gives. */
    readonly light?: Light;
  };
  readonly relay?: {
    readonly dcRating?: { readonly voltage: Volts; readonly current: Amperes };
    readonly operatesOn?: "any-fault" | "earth-fault";
  };
  readonly defaultPasswordChanged?: boolean;
}

export interface PvArray {
  readonly id: string;
  readonly inverter: string;
  readonly module: string;
  /** Calendar date, YYYY-MM-DD. */
  readonly installed?: string;
  readonly altered?: string;
  /** Day on which the latest work (installation or alteration) began, YYYY-MM-DD; some rules go by it. */
  readonly workBegan?: string;
  /** Highest voltage stated by the maker, where it is not the sum of modules in series (DC-DC units). */
  readonly statedMaxVoltage?: Volts;
  readonly earthing?: "floating" | "functional" | "solid";
  readonly mounting?: "building" | "field";
  readonly strings: readonly { readonly id: string; readonly modules: number }[];
}

export interface Person {
  readonly id: string;
  readonly role?: "owner" | "service" | "installer" | "occupant" | "other";
  readonly address?: { readonly email?: string; readonly phone?: string; readonly webhook?: string };
  /** Hours of the week in which this person reads messages. */
  readonly reads?: WeeklyHours;
  /** IANA zone of the reading hours, where it is not the site's. */
  readonly timezone?: string;
  /** How often, inside those hours, the person looks. */
  readonly checksPerDay?: number;
  /** First and last day of absences, YYYY-MM-DD. */
  readonly away?: readonly { readonly from: string; readonly to: string }[];
  /** Last day on which this person answered for the site, if the post has ended. */
  readonly until?: string;
}

/** What a light gives towards the people who should see it: its intensity, or its luminance and size. */
export interface Light {
  readonly intensity?: Candela;
  readonly luminance?: CandelaPerSquareMetre;
  /** Of the round face that gives the luminance. */
  readonly diameter?: Metres;
  readonly colour?: "red" | "amber" | "green" | "blue" | "white";
  /** 0: steady. */
  readonly flashesPerMinute?: number;
  readonly flashLength?: Minutes;
  /** The brightest that its surroundings get while it must be seen. */
  readonly background?: "bright-day" | "overcast-or-indoors" | "twilight" | "night";
}

/** Half-open spans in minutes of the local week, Monday 00:00 = 0, up to 10080; sorted, not overlapping. */
export type WeeklyHours = readonly { readonly fromMinute: number; readonly toMinute: number }[];

interface PathBase {
  readonly id: string;
  readonly arrays: readonly string[];
}
export interface MessagePath extends PathBase {
  readonly signal: "message";
  readonly to: readonly string[];
  readonly repeatEvery?: Minutes;
  readonly until?: readonly ("acknowledged" | "cleared")[];
  readonly link?: {
    readonly availability?: Ratio;
    readonly meanOutage?: Minutes;
    readonly supervisedEvery?: Minutes;
  };
}
export interface AnnunciatorPath extends PathBase {
  readonly signal: "annunciator";
  readonly loop?: AlarmLoop;
  readonly listener?: {
    readonly distance?: Metres;
    readonly barriers?: readonly DecibelsA[];
    readonly ambient?: DecibelsA;
    readonly present?: WeeklyHours;
  };
}
export interface IndicatorPath extends PathBase {
  readonly signal: "indicator";
}
export type Path = MessagePath | AnnunciatorPath | IndicatorPath;

export interface AlarmLoop {
  readonly supply?: Volts;
  readonly supplyMinimum?: Volts;
  readonly battery?: AmpereHours;
  readonly quiescentCurrent?: Amperes;
  readonly cable?: {
    readonly area: SquareMillimetres;
    /** IEC 60228 conductor class. */
    readonly class?: 1 | 2 | 5;
    readonly tinned?: boolean;
    /** Route length one way. */
    readonly length: Metres;
    readonly temperature?: Celsius;
  };
  readonly load?: {
    readonly kind: "sounder" | "beacon" | "lamp" | "relay";
    readonly current: Amperes;
    readonly minimumVoltage?: Volts;
    /** Sound level at 1 m. */
    readonly level?: DecibelsA;
    /** What a beacon or lamp gives. */
    readonly light?: Light;
    readonly flybackDiode?: boolean;
  };
  readonly fuse?: Amperes;
  /** energise-to-alarm: the contact closes to sound it; de-energise-to-alarm: loss of supply or a cut wire sounds it. */
  readonly sense?: "energise-to-alarm" | "de-energise-to-alarm";
  readonly supervised?: boolean;
}

export interface Proof {
  readonly path: string;
  readonly kind: "drill" | "test-resistor";
  readonly on: string;
  readonly by?: string;
  readonly acknowledgedAfter?: Minutes;
}

export interface OwnerInformed {
  readonly on: string;
  readonly document?: string;
}
