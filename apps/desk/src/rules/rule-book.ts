import {
  BUILT_IN_PACKS,
  type OverridableValue,
  overridesSetAside,
  packsInForce,
  packsWith,
  type RulePack,
  type SetAside,
} from "@earthbell/engine";
import {
  type InputFault,
  type OverrideOnRecord,
  ruleOverridesText,
  type WantedOverride,
} from "@earthbell/model";
import type { OwnPack } from "../settings/set-up.ts";
import { appendJournal, type DeskStore, type RuleOverrideTable, type Writing } from "../store/index.ts";
import { overrideFaults } from "./override-faults.ts";

/** Who does something, and when. */
interface Doing {
  readonly by: string;
  readonly at: number;
  /** Id for a new override. */
  readonly id: string;
}

export type PutOverride =
  | { readonly ok: true; readonly text: string }
  | { readonly ok: false; readonly faults: readonly InputFault[] }
  /** Somebody else was there first. */
  | { readonly ok: false; readonly faults: null };

/** The rule packs that a desk goes by: those of the program, those of its folder, and the values that its people replaced. */
export interface RuleBook {
  readonly own: readonly OwnPack[];
  /** To be given to the engine. */
  readonly packs: () => readonly RulePack[];
  /** Every override, the newest first, with those that have ended. */
  readonly overrides: () => readonly RuleOverrideTable[];
  /** Those that are set aside, since their pack says another value by now, or none at that place. */
  readonly setAside: () => readonly SetAside[];
  /** The overrides in force, and those that wait for another look, as a file for the command line. */
  readonly file: (desk: string) => string;
  /** @param instead  id of the override in force at that place, that it revises; null where there is none */
  readonly put: (wanted: WantedOverride, instead: string | null, doing: Doing) => Promise<PutOverride>;
  /** @returns false where there is none in force of this id */
  readonly takeBack: (id: string, because: string, doing: Omit<Doing, "id">) => Promise<boolean>;
}

export async function openRuleBook(store: DeskStore, own: readonly OwnPack[]): Promise<RuleBook> {
  const ownPacks = own.map(({ pack }) => pack);
  const base = packsWith(ownPacks);
  let rows = await readRows(store);
  let packs = packsInForce(ownPacks, inForce(rows));
  let aside = overridesSetAside(base, inForce(rows));
  const reload = async (): Promise<void> => {
    rows = await readRows(store);
    packs = packsInForce(ownPacks, inForce(rows));
    aside = overridesSetAside(base, inForce(rows));
  };
  /** What a command line cannot place is left out: it holds no such pack or place. */
  const placed = (): readonly OverrideOnRecord[] => {
    const gone = aside.filter(({ holds }) => holds === null);
    return inForce(rows).filter((one) => !gone.some(({ override }) => isAt(override, one)));
  };
  return {
    own,
    packs: () => packs,
    overrides: () => rows,
    setAside: () => aside,
    file: (desk) => ruleOverridesText(desk, placed(), base),
    put: async (wanted, instead, doing) => {
      const beside = inForce(rows).filter((one) => !aside.some(({ override }) => isAt(override, one)));
      const { known, faults } = overrideFaults(wanted, base, beside);
      if (known === null || faults.length > 0) return { ok: false, faults };
      const text = await storeOverride(store, { wanted, known, instead }, doing);
      if (text === null) return { ok: false, faults: null };
      await reload();
      return { ok: true, text };
    },
    takeBack: async (id, because, doing) => {
      const row = rows.find((one) => one.id === id && one.ended_at === null);
      if (row === undefined) return false;
      const done = await endOverride(store, row, { ...doing, because });
      await reload();
      return done;
    },
  };
}

/** Whether two overrides are of the same place. */
export function isAt(
  one: { readonly pack: string; readonly field: string },
  { pack, field }: { readonly pack: string; readonly field: string },
): boolean {
  return one.pack === pack && one.field === field;
}

interface Sound {
  readonly wanted: WantedOverride;
  readonly known: OverridableValue;
  readonly instead: string | null;
}

/** @returns what was done; null where another override is in force there than the one that was to be revised */
function storeOverride(
  store: DeskStore,
  { wanted, known, instead }: Sound,
  { by, at, id }: Doing,
): Promise<string | null> {
  const { pack, field, value, because, source } = wanted;
  const unit = known.unit === "" ? "" : ` ${known.unit}`;
  const text = `Override of ${pack}, ${field}: ${String(value)}${unit} in place of ${String(known.value)}${unit}. Because: ${because} From: ${source}`;
  return store.amend(async (tx) => {
    const before = await tx
      .selectFrom("rule_override")
      .select("id")
      .where("pack", "=", pack)
      .where("field", "=", field)
      .where("ended_at", "is", null)
      .executeTakeFirst();
    if ((before?.id ?? null) !== instead) return null;
    if (instead !== null) await end(tx, instead, { by, at, because: "revised" });
    const row = { id, pack, field, value, replaced: known.value, because, source, by, put_at: at };
    await tx
      .insertInto("rule_override")
      .values({ ...row, ended_at: null, ended_by: null, ended_because: null })
      .execute();
    await appendJournal(tx, [{ ...JOURNALLED, subject: `rules ${pack}`, at, by, text }]);
    return text;
  });
}

function endOverride(
  store: DeskStore,
  { id, pack, field, value, replaced }: RuleOverrideTable,
  ending: Ending,
): Promise<boolean> {
  const { by, at, because } = ending;
  const text = `Override of ${pack}, ${field} taken back: ${String(replaced)} in place of ${String(value)} again. Because: ${because}`;
  return store.amend(async (tx) => {
    if (!(await end(tx, id, ending))) return false;
    await appendJournal(tx, [{ ...JOURNALLED, subject: `rules ${pack}`, at, by, text }]);
    return true;
  });
}

const JOURNALLED = { kind: "watch", site: null } as const;

interface Ending {
  readonly by: string;
  readonly at: number;
  readonly because: string;
}

async function end(tx: Writing, id: string, { by, at, because }: Ending): Promise<boolean> {
  const ended = await tx
    .updateTable("rule_override")
    .set({ ended_at: at, ended_by: by, ended_because: because })
    .where("id", "=", id)
    .where("ended_at", "is", null)
    .returning("id")
    .execute();
  return ended.length > 0;
}

function readRows({ db }: DeskStore): Promise<readonly RuleOverrideTable[]> {
  return db.selectFrom("rule_override").selectAll().orderBy("put_at", "desc").orderBy("id").execute();
}

function inForce(rows: readonly RuleOverrideTable[]): readonly OverrideOnRecord[] {
  return rows
    .filter(({ ended_at }) => ended_at === null)
    .map(({ pack, field, value, replaced: replaces, because, source, by, put_at }) => {
      const on = new Date(put_at).toISOString().slice(0, 10);
      return { pack, field, value, replaces, because, source, by, on };
    });
}

/** Title of the pack that comes with the program under an id; null where there is none. */
export function builtInTitle(id: string): string | null {
  return BUILT_IN_PACKS.find((pack) => pack.id === id)?.title ?? null;
}
