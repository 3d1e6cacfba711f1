import {
  type Chain,
  chainHolds,
  decode,
  discover,
  type Identity,
  identityOf,
  identityRead,
  imageOf,
  makerRegistersOf,
  type PlannedRead,
  planReads,
  readingsOf,
  type RegisterAnswer,
  type RegisterRun,
  staled,
  type SunspecDevice,
  type SunspecProblem,
  type WatchReading,
} from "@earthbell/model";
import { PACE } from "./pace.ts";
import type { RegisterLink } from "./register-link.ts";
import { Telling } from "./telling.ts";

/** The device answered, and what it answered cannot be used. */
export class PollFault extends Error {
  override readonly name = "PollFault";
  constructor(readonly problem: SunspecProblem) {
    super(problem.text);
  }
}

/** What is known of a device between two polls. */
interface Known {
  readonly chain: Chain;
  readonly reads: readonly PlannedRead[];
  readonly acrossModels: boolean;
  readonly identityDueAt: number;
}

/** One unit as it is polled: finds its models once, then reads what is watched and nothing else. */
export class PolledDevice {
  readonly device: SunspecDevice;
  private readonly source: string;
  private readonly telling = new Telling(PACE.telling);
  private known: Known | null = null;
  /** Stays when the chain has to be found anew, to tell a device that was replaced. */
  private identity: Identity | null = null;
  private found: readonly SunspecProblem[] = [];
  private noted: readonly SunspecProblem[] = [];

  constructor(device: SunspecDevice, source: string) {
    this.device = device;
    this.source = source;
  }

  /** How the device names itself, as far as it was asked. */
  get names(): Identity | null {
    return this.identity;
  }

  /** What is untidy about a device that is read. */
  get problems(): readonly SunspecProblem[] {
    return [...this.found, ...this.noted];
  }

  /** The readings to be passed on. @throws LinkFault, PollFault */
  async poll(link: RegisterLink, now: () => number): Promise<readonly WatchReading[]> {
    try {
      return await this.read(link, now);
    } catch (error) {
      // One unsound answer can make up a model that the device then refuses for ever: what it offers is found anew.
      if (error instanceof PollFault) this.known = null;
      throw error;
    }
  }

  private async read(link: RegisterLink, now: () => number): Promise<readonly WatchReading[]> {
    for (let attempt = 1; ; attempt++) {
      const known = await this.knownOf(link, now);
      const image = imageOf(await this.readAll(link, known));
      if (!chainHolds(known.chain, image)) {
        this.known = null;
        const text = "The models of the device are not where they were.";
        // Found anew at once; a device whose models move while it is read is given up until the next poll.
        if (attempt > 1) throw new PollFault({ code: "SUNSPEC_DEVICE_CHANGED", text });
        continue;
      }
      const report = decode(known.chain, this.device, image);
      this.noted = report.problems;
      return this.telling.choose(readingsOf(report, this.device, now(), this.source), now());
    }
  }

  /** Takes back what the device last said, once nobody knows any more whether it is still so. */
  takeBack(at: number): readonly WatchReading[] {
    return this.telling.takeBack().map((reading) => staled(reading, this.device, at));
  }

  /** After a new connection another device may answer here. */
  compareIdentity(): void {
    if (this.known !== null) this.known = { ...this.known, identityDueAt: 0 };
  }

  private async knownOf(link: RegisterLink, now: () => number): Promise<Known> {
    const { known } = this;
    if (known === null) return this.find(link, now());
    if (now() < known.identityDueAt) return known;
    const read = identityRead(known.chain.models);
    const identity = read === null ? null : identityOf(read, await link.read(this.device.unit, read));
    if (identity !== null && identity.serial !== this.identity?.serial) return this.find(link, now());
    return (this.known = { ...known, identityDueAt: now() + PACE.identityEveryMs });
  }

  private async find(link: RegisterLink, now: number): Promise<Known> {
    const walk = discover(makerRegistersOf(this.device).length === 0);
    let step = walk.next();
    while (step.done !== true) step = walk.next(await link.read(this.device.unit, step.value));
    const { problems } = step.value;
    const worst = problems.at(-1);
    if (!step.value.ok)
      throw new PollFault(worst ?? { code: "SUNSPEC_NOTHING_TO_WATCH", text: "The device offers nothing." });
    const { chain } = step.value;
    this.found = [...problems, ...this.replaced(chain.identity)];
    this.identity = chain.identity ?? this.identity;
    const identityDueAt = now + PACE.identityEveryMs;
    return (this.known = {
      chain,
      reads: planReads(chain, this.device, true),
      acrossModels: true,
      identityDueAt,
    });
  }

  /** Stays on record until the desk starts again. */
  private replaced(identity: Identity | null): readonly SunspecProblem[] {
    const earlier = this.found.filter(({ code }) => code === "SUNSPEC_DEVICE_CHANGED");
    const before = this.identity?.serial ?? "";
    const serial = identity?.serial ?? before;
    if (before === "" || serial === before) return earlier;
    const text = `Serial number ${serial} answers where ${before} did.`;
    return [{ code: "SUNSPEC_DEVICE_CHANGED", text }];
  }

  private async readAll(link: RegisterLink, known: Known): Promise<readonly RegisterRun[]> {
    const runs: RegisterRun[] = [];
    let refused: PollFault | null = null;
    for (const read of known.reads) {
      const answer = await link.read(this.device.unit, read);
      if (answer.ok) runs.push({ address: read.address, registers: answer.registers });
      else if (read.models.length > 1) return this.readApart(link, known);
      else {
        refused = refusal(read, answer);
        if (read.models.length > 0) throw refused;
      }
    }
    // A register of the maker's own that is refused counts as stale, unless nothing else is left.
    if (runs.length === 0 && refused !== null) throw refused;
    return runs;
  }

  /** Some devices refuse a request that touches two models. */
  private readApart(link: RegisterLink, known: Known): Promise<readonly RegisterRun[]> {
    const reads = planReads(known.chain, this.device, false);
    const apart: Known = { ...known, reads, acrossModels: false };
    this.known = apart;
    return this.readAll(link, apart);
  }
}

function refusal({ address, count }: PlannedRead, answer: RegisterAnswer): PollFault {
  const exception = answer.ok ? "" : ` with exception ${String(answer.exception)}`;
  const text = `The device refuses ${String(count)} registers from ${String(address)}${exception}.`;
  return new PollFault({ code: "SUNSPEC_READ_REFUSED", text });
}
