import type { RulePack, ValueOverride } from "@earthbell/engine";
import { useEffect, useSyncExternalStore } from "react";
import { readDesk } from "../desk/ask-desk.ts";
import { hear } from "../desk/live.ts";
import { useSession } from "../desk/session.ts";

/** What a desk goes by besides the packs of the program. */
export interface DeskRules {
  readonly own: readonly RulePack[];
  readonly overrides: readonly ValueOverride[];
}

/** An override as the desk tells it. */
export interface OverrideLine extends Omit<ValueOverride, "on" | "replaces"> {
  readonly id: string;
  /** What the pack itself says there. */
  readonly replaced: number;
  readonly putAt: number;
  /** null: in force. */
  readonly ended: { readonly at: number; readonly by: string; readonly because: string } | null;
  /** Why the pack's own value holds although nobody took it back; gone: the pack has no such value any more. */
  readonly setAside: { readonly text: string; readonly gone: boolean } | null;
}

const KEPT = "earthbell:desk-rules";
const CHANGED = "earthbell:desk-rules-changed";
const NONE: DeskRules = { own: [], overrides: [] };
let held: DeskRules | null = null;

/** Overrides in force, with their day as the engine writes it into the source of the value. */
export function inForce(lines: readonly OverrideLine[]): readonly ValueOverride[] {
  return lines
    .filter(({ ended }) => ended === null)
    .map(({ pack, field, value, replaced: replaces, because, source, by, putAt }) => {
      const on = new Date(putAt).toISOString().slice(0, 10);
      return { pack, field, value, replaces, because, source, by, on };
    });
}

/** What was last heard from the desk; on a roof without signal it holds on. */
function known(): DeskRules {
  if (held !== null) return held;
  try {
    held = JSON.parse(localStorage.getItem(KEPT) ?? "null") as DeskRules | null;
  } catch {
    held = null;
  }
  return (held ??= NONE);
}

async function refresh(): Promise<void> {
  const [own, lines] = await Promise.all([
    readDesk<readonly { readonly pack: RulePack }[]>("/api/rules"),
    readDesk<readonly OverrideLine[]>("/api/rules/overrides"),
  ]);
  const now = { own: own.map(({ pack }) => pack), overrides: inForce(lines) };
  if (JSON.stringify(now) === JSON.stringify(known())) return;
  held = now;
  localStorage.setItem(KEPT, JSON.stringify(now));
  window.dispatchEvent(new Event(CHANGED));
}

function listen(changed: () => void): () => void {
  window.addEventListener(CHANGED, changed);
  return () => {
    window.removeEventListener(CHANGED, changed);
  };
}

/** Without an answer the rules stay as they were last heard. */
const asLastHeard = (): undefined => undefined;

/**
 * The rules that the desk goes by, so that this device decides as the desk does: asked anew while somebody is signed in, kept
 * while the desk cannot be reached. Where there is no desk, or nobody is signed in, those of the program alone.
 */
export function useDeskRules(): DeskRules {
  const { state } = useSession();
  const rules = useSyncExternalStore(listen, known);
  useEffect(() => {
    if (state !== "someone") return undefined;
    // In a turn of its own: on a slow phone asking takes as long as drawing a part of the page.
    const asking = setTimeout(() => void refresh().catch(asLastHeard));
    const stop = hear(({ kind, subject }) => {
      if (kind === "watch" && subject?.startsWith("rules ") === true) void refresh().catch(asLastHeard);
    });
    return () => {
      clearTimeout(asking);
      stop();
    };
  }, [state]);
  return state === "nobody" || state === "no-desk" ? NONE : rules;
}
