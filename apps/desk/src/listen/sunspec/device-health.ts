import type { Identity, SunspecDevice, SunspecProblem } from "@earthbell/model";

/** What is known of one device's hearing. */
export class DeviceHealth {
  readonly place: {
    readonly gateway: string;
    readonly site: string;
    readonly device: string;
    readonly unit: number;
  };
  /** Last answer, or the start of the listener. */
  lastHeardAt: number;
  everHeard = false;
  /** Failed polls since it was last heard. */
  failures = 0;
  /** Not heard for so long that what it last said was taken back. */
  unheard = false;
  /** Why it could not be heard the last time; null while it is. */
  fault: SunspecProblem | null = null;
  identity: Identity | null = null;
  /** What is untidy about it though it is heard. */
  problems: readonly SunspecProblem[] = [];

  constructor({ id, site, unit }: SunspecDevice, gateway: string, now: number) {
    this.place = { gateway, site, device: id, unit };
    this.lastHeardAt = now;
  }

  hear(now: number, identity: Identity | null, problems: readonly SunspecProblem[]): void {
    this.lastHeardAt = now;
    this.everHeard = true;
    this.failures = 0;
    this.unheard = false;
    this.fault = null;
    this.identity = identity;
    this.problems = problems;
  }

  miss(problem: SunspecProblem): void {
    this.failures += 1;
    this.fault = problem;
  }

  /** Whether a fault of its arrays would be heard now. */
  get hears(): boolean {
    return this.everHeard && !this.unheard;
  }
}
