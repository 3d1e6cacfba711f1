import type { InputFault } from "@earthbell/model";
import type { Clock } from "../../clock.ts";
import type { Log } from "../../log.ts";
import { reasonOf } from "../../folder/desk-folder.ts";
import { appendJournal, type DeskStore } from "../../store/index.ts";
import type { Accept, Listener, ListenerHealth } from "../accept.ts";
import { acceptAll } from "../table/accept-all.ts";
import { savedMapping } from "../table/saved-mapping.ts";
import { type Mapping, tableReadings, type TablePlace } from "../table/table-readings.ts";
import type { DropFolder, LaidFile } from "./drop-folder.ts";
import { errorsText } from "./errors-text.ts";

export interface DropOptions {
  /** Id of the folder's entry in the settings. */
  readonly id: string;
  readonly mapping: string;
  readonly place: TablePlace;
  /** A file is complete once it has not changed for this long [ms]. */
  readonly settledMs: number;
  readonly lookEveryMs: number;
}

export interface DropParts {
  readonly folder: DropFolder;
  readonly store: DeskStore;
  readonly accept: Accept;
  readonly clock: Clock;
  readonly log: Log;
}

const MOST_BYTES = 32 * 2 ** 20;

/**
 * Takes files that are laid into a folder, each once by what it holds: complete ones only, and whole or not at all. A file
 * that was taken is moved to taken/, one with faults to refused/ with a text that names them.
 */
export function startDropListener(options: DropOptions, parts: DropParts): Listener {
  const taker = new DropTaker(options, parts);
  const stopping = new AbortController();
  const running = taker.run(stopping.signal);
  return {
    name: `folder-${options.id}`,
    health: () => taker.health(),
    async stop() {
      stopping.abort();
      await running;
    },
  };
}

/** Looks into one folder, again and again. */
export class DropTaker {
  /** Why nothing can be taken; null while it can. */
  #problem: string | null = null;
  #taken = 0;
  #refused = 0;
  /** What files were like when they were looked at last, by name. */
  #seen = new Map<string, { readonly bytes: number; readonly changedAt: number; readonly since: number }>();

  constructor(
    private readonly options: DropOptions,
    private readonly parts: DropParts,
  ) {}

  async run(signal: AbortSignal): Promise<void> {
    while (!signal.aborted) {
      await this.look();
      await this.parts.clock.pause(this.options.lookEveryMs, signal);
    }
  }

  /** Takes what is complete. Never rejects: what fails is tried again at the next look. */
  async look(): Promise<void> {
    const { store, folder } = this.parts;
    const { mapping: name } = this.options;
    try {
      const mapping = await savedMapping(store.db, name);
      if (mapping === null) {
        this.#say(`No mapping ${name} is saved, so that files cannot be read. They wait.`);
        return;
      }
      let failed: string | null = null;
      for (const file of this.#settled(await folder.list()))
        failed = (await this.#attempt(file, mapping)) ?? failed;
      if (failed === null) this.#problem = null;
      else this.#say(failed);
    } catch (error) {
      this.#say(`The folder cannot be looked into: ${reasonOf(error)}.`);
    }
  }

  /** One file that cannot be taken holds up no other. @returns why; null for one that was dealt with */
  async #attempt(file: LaidFile, mapping: Mapping): Promise<string | null> {
    try {
      await this.#take(file, mapping);
      return null;
    } catch (error) {
      return `${file.name} cannot be taken, and is tried again: ${reasonOf(error)}.`;
    }
  }

  health(): ListenerHealth {
    const { id } = this.options;
    const counts = `Files taken: ${this.#taken}, refused: ${this.#refused}.`;
    const state = this.#problem === null ? "hearing" : "deaf";
    const text = `${this.#problem ?? "Looks into its folder."} ${counts}`;
    return { name: `folder-${id}`, state, text, known: 1, unheard: this.#problem === null ? 0 : 1 };
  }

  #say(problem: string): void {
    if (this.#problem !== problem) this.parts.log.warn({ listener: `folder-${this.options.id}` }, problem);
    this.#problem = problem;
  }

  /** Files of which neither size nor date has changed for long enough, by the desk's own clock. */
  #settled(files: readonly LaidFile[]): readonly LaidFile[] {
    const now = this.parts.clock.now();
    const seen = new Map(
      files.map(({ name, bytes, changedAt }) => {
        const before = this.#seen.get(name);
        const same = before?.bytes === bytes && before.changedAt === changedAt;
        return [name, same ? before : { bytes, changedAt, since: now }];
      }),
    );
    this.#seen = seen;
    return files.filter(({ name }) => now - seen.get(name)!.since >= this.options.settledMs);
  }

  async #take(file: LaidFile, mapping: Mapping): Promise<void> {
    const { folder, clock, accept } = this.parts;
    if (file.bytes > MOST_BYTES) {
      await this.#refuse(file, "too-large", [tooLarge(file)]);
      return;
    }
    const { bytes, digest } = await folder.read(file);
    if (await this.#known(digest)) {
      await folder.moveTo("taken", file, digest);
      await this.#note(`${file.name} holds what was taken before; it was set aside and not taken again.`);
      return;
    }
    const read = tableReadings(bytes, file.name, mapping, this.options.place, clock.now());
    if (!read.ok) {
      await this.#refuse(file, digest, read.faults);
      return;
    }
    const { taken, known, setAside } = await acceptAll(accept, read.readings);
    await this.#remember(file, digest, { taken, known });
    await folder.moveTo("taken", file, digest);
    this.#taken += 1;
    const aside =
      setAside.length === 0 ? "" : `, ${setAside.length} or more set aside: ${setAside[0]!.reason}`;
    await this.#note(
      `${file.name} was taken: ${taken} readings, ${known} known before, ${read.passedOver} rows passed over${aside}.`,
    );
  }

  async #refuse(file: LaidFile, digest: string, faults: readonly InputFault[]): Promise<void> {
    const kept = await this.parts.folder.moveTo("refused", file, digest, errorsText(file.name, faults));
    this.#refused += 1;
    const [first] = faults;
    const where = first?.line == null ? "" : ` in line ${first.line}`;
    await this.#note(
      `${file.name} was refused: ${faults.length} faults, the first ${first?.code ?? ""}${where}. It lies at ${kept}, with all of them beside it.`,
    );
  }

  async #known(digest: string): Promise<boolean> {
    const row = await this.parts.store.db
      .selectFrom("taken_file")
      .select("digest")
      .where("folder", "=", this.options.id)
      .where("digest", "=", digest)
      .executeTakeFirst();
    return row !== undefined;
  }

  /** Remembered before it is moved: after a crash between the two it is moved and not taken again. */
  async #remember(
    { name }: LaidFile,
    digest: string,
    counts: { readonly taken: number; readonly known: number },
  ): Promise<void> {
    const { store, clock } = this.parts;
    const row = { folder: this.options.id, digest, name, at: clock.now(), ...counts };
    await store.amend((tx) => tx.insertInto("taken_file").values(row).execute());
  }

  async #note(text: string): Promise<void> {
    const { store, clock, log } = this.parts;
    const { id, place } = this.options;
    log.info({ listener: `folder-${id}` }, text);
    const row = { at: clock.now(), kind: "watch", site: place.site, subject: `folder ${id}`, by: null, text };
    await store.amend((tx) => appendJournal(tx, [row]));
  }
}

function tooLarge({ name, bytes }: LaidFile): InputFault {
  return {
    code: "INPUT_FILE_TOO_LARGE",
    file: name,
    line: null,
    column: null,
    field: "",
    value: `${bytes} bytes`,
    allowed: `up to ${MOST_BYTES} bytes`,
    message: "The file is larger than the desk takes at once. Cut it in parts.",
  };
}
