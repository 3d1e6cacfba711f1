import type { SunspecDevice, SunspecProblem, WatchReading } from "@earthbell/model";
import type { Clock } from "../../clock.ts";
import type { Log } from "../../log.ts";
import { DeviceHealth } from "./device-health.ts";
import { backOffMs, PACE } from "./pace.ts";
import { PolledDevice, PollFault } from "./polled-device.ts";
import { type GatewayPlace, LinkFault, type OpenLink, type RegisterLink } from "./register-link.ts";

/** A gateway, or a device that is its own gateway: one connection, one request at a time. */
export interface SunspecGateway extends GatewayPlace {
  readonly id: string;
  /** Interval between two polls of a device [ms]. */
  readonly pollEveryMs: number;
  /** How long a request, or the opening of the connection, may take [ms]. */
  readonly timeoutMs: number;
  /** Rest between two requests [ms], for gateways to a slow serial line. */
  readonly restMs: number;
  readonly devices: readonly SunspecDevice[];
}

export interface GatewayParts {
  readonly clock: Clock;
  /** Uniform in [0, 1). */
  readonly random: () => number;
  readonly log: Log;
  readonly open: OpenLink;
  readonly source: string;
  readonly tell: (readings: readonly WatchReading[]) => void;
}

interface Unit {
  readonly polled: PolledDevice;
  readonly health: DeviceHealth;
  dueAt: number;
  /** Polls in a row that failed over an open connection: a gateway out of reach is no fault of its devices. */
  failures: number;
}

/** Polls the devices of one gateway until it is stopped; whatever they do stays inside it. */
export class GatewayLoop {
  private readonly gateway: SunspecGateway;
  private readonly parts: GatewayParts;
  private readonly units: readonly Unit[];
  private readonly stopping = new AbortController();
  private readonly running: Promise<void>;
  private link: RegisterLink | null = null;
  private linkFailures = 0;
  private unanswered = 0;

  constructor(gateway: SunspecGateway, parts: GatewayParts) {
    this.gateway = gateway;
    this.parts = parts;
    const spread = Math.min(PACE.spreadMs, gateway.pollEveryMs);
    const now = parts.clock.now();
    this.units = gateway.devices.map((device) => ({
      polled: new PolledDevice(device, parts.source),
      health: new DeviceHealth(device, gateway.id, now),
      dueAt: now + spread * parts.random(),
      failures: 0,
    }));
    this.running = this.run();
  }

  get devices(): readonly DeviceHealth[] {
    return this.units.map(({ health }) => health);
  }

  async stop(): Promise<void> {
    this.stopping.abort();
    this.link?.close();
    await this.running;
  }

  private isStopped(): boolean {
    return this.stopping.signal.aborted;
  }

  private async run(): Promise<void> {
    const { clock } = this.parts;
    while (!this.isStopped()) {
      const unit = this.units.reduce((one, other) => (other.dueAt < one.dueAt ? other : one));
      await clock.pause(unit.dueAt - clock.now(), this.stopping.signal);
      if (this.isStopped()) break;
      const link = this.link ?? (await this.connect());
      if (link === null) continue;
      await this.pollOnce(link, unit);
    }
    this.link?.close();
  }

  private async connect(): Promise<RegisterLink | null> {
    const { clock, log, open, random } = this.parts;
    try {
      const link = await open(this.gateway, this.gateway.timeoutMs, clock);
      this.link = this.paced(link);
      if (this.isStopped()) return null;
      for (const { polled } of this.units) polled.compareIdentity();
      return this.link;
    } catch (error) {
      this.linkFailures += 1;
      const problem = problemOf(error);
      if (this.linkFailures === 1) log.warn({ gateway: this.gateway.id, code: problem.code }, problem.text);
      for (const unit of this.units) this.missed(unit, problem);
      const wait = backOffMs(this.linkFailures, PACE.firstReconnectMs, PACE.longestReconnectMs, random());
      await clock.pause(wait, this.stopping.signal);
      return null;
    }
  }

  /** Rests before every request. */
  private paced(link: RegisterLink): RegisterLink {
    const { restMs } = this.gateway;
    if (restMs === 0) return link;
    return {
      read: async (unit, request) => {
        await this.parts.clock.pause(restMs, this.stopping.signal);
        return link.read(unit, request);
      },
      close: () => {
        link.close();
      },
    };
  }

  private async pollOnce(link: RegisterLink, unit: Unit): Promise<void> {
    const { clock, tell } = this.parts;
    const { pollEveryMs } = this.gateway;
    try {
      const readings = await unit.polled.poll(link, () => clock.now());
      this.linkFailures = 0;
      this.unanswered = 0;
      unit.failures = 0;
      this.heard(unit);
      if (readings.length > 0) tell(readings);
      // Late polls are not made up for, and the rhythm is kept.
      const now = clock.now();
      unit.dueAt += pollEveryMs * Math.max(1, Math.ceil((now - unit.dueAt) / pollEveryMs));
    } catch (error) {
      if (this.isStopped()) return;
      this.failed(unit, error);
    }
  }

  private failed(unit: Unit, error: unknown): void {
    const { clock, log, random } = this.parts;
    const { pollEveryMs } = this.gateway;
    if (!(error instanceof LinkFault) && !(error instanceof PollFault))
      log.error(
        { gateway: this.gateway.id, device: unit.polled.device.id, error: String(error) },
        "A poll went wrong.",
      );
    const problem = problemOf(error);
    if (unit.health.failures === 0) log.warn({ ...unit.health.place, code: problem.code }, problem.text);
    this.missed(unit, problem);
    const longest = Math.max(pollEveryMs, PACE.longestWaitMs);
    unit.failures += 1;
    unit.dueAt = clock.now() + backOffMs(unit.failures, pollEveryMs, longest, random());
    if (error instanceof PollFault) this.unanswered = 0;
    if (!(error instanceof LinkFault)) return;
    this.unanswered += error.kind === "no-answer" ? 1 : 0;
    // One silent unit is its own affair; when nobody behind the connection answers, the connection is to blame.
    const allSilent = this.unanswered >= Math.min(5, Math.max(2, this.units.length));
    if (error.kind === "no-answer" && !allSilent) return;
    this.unanswered = 0;
    this.link?.close();
    this.link = null;
  }

  private heard({ polled, health }: Unit): void {
    const wasSilent = health.failures > 0;
    health.hear(this.parts.clock.now(), polled.names, polled.problems);
    if (wasSilent) this.parts.log.info(health.place, "The device is heard again.");
  }

  private missed({ polled, health }: Unit, problem: SunspecProblem): void {
    const { clock, tell } = this.parts;
    const now = clock.now();
    health.miss(problem);
    if (now - health.lastHeardAt < PACE.unheardAfterPolls * this.gateway.pollEveryMs) return;
    health.unheard = true;
    const stale = polled.takeBack(now);
    if (stale.length > 0) tell(stale);
  }
}

function problemOf(error: unknown): SunspecProblem {
  if (error instanceof PollFault) return error.problem;
  const text = error instanceof Error ? error.message : String(error);
  if (!(error instanceof LinkFault)) return { code: "SUNSPEC_ANSWER_UNSOUND", text };
  switch (error.kind) {
    case "no-connection":
    case "closed":
      return { code: "SUNSPEC_NO_CONNECTION", text };
    case "no-answer":
      return { code: "SUNSPEC_NO_ANSWER", text };
    case "unsound":
      return { code: "SUNSPEC_ANSWER_UNSOUND", text };
  }
}
