import type { RulePack } from "@earthbell/engine";
import type { ReactNode } from "react";
import { Link } from "../address/link.tsx";
import { Asking } from "../page/asking.tsx";
import { State } from "../page/state.tsx";
import type { OverrideLine } from "../rules/desk-rules.ts";
import { FaultText } from "./fault-text.tsx";
import { keepsDesk } from "./keeps-desk.ts";
import { TakeBack } from "./override-value.tsx";
import { useMe } from "./session.ts";
import { useAnswer } from "./use-answer.ts";

/** A rule pack of the desk's own. */
export interface OwnPack {
  readonly file: string;
  readonly digest: string;
  /** Title of the built-in pack whose place it takes; null where it is added. */
  readonly replaces: string | null;
  readonly pack: RulePack;
}

export function useOwnPacks() {
  return useAnswer<readonly OwnPack[]>("/api/rules", []);
}

/**
 * Which rule packs of its own the desk goes by, by whom and why.
 *
 * @param children  what follows; drawn with it, so that it does not jump
 */
export default function OwnPacks({ children }: { readonly children: ReactNode }) {
  const { value, fault } = useOwnPacks();
  const overrides = useAnswer<readonly OverrideLine[]>("/api/rules/overrides", ["watch"]);
  if (fault !== null)
    return (
      <>
        <FaultText fault={fault} />
        {children}
      </>
    );
  if (value === undefined || (overrides.value === undefined && overrides.fault === null)) return <Asking />;
  const amended = (overrides.value ?? []).filter(({ ended }) => ended === null);
  return (
    <>
      {value.length === 0 ? null : <Own packs={value} />}
      <FaultText fault={overrides.fault} />
      {amended.length === 0 ? null : <Amended lines={amended} done={overrides.again} />}
      {children}
    </>
  );
}

interface AmendedProps {
  readonly lines: readonly OverrideLine[];
  readonly done: () => void;
}

function Amended({ lines: all, done }: AmendedProps) {
  const lines = all.filter(({ setAside }) => setAside === null);
  return (
    <section className="flow">
      <h2>Values that are overridden here</h2>
      <Aside lines={all.filter(({ setAside }) => setAside !== null)} done={done} />
      <ul className="plain index">
        {[...new Set(lines.map(({ pack }) => pack))].map((pack) => (
          <li key={pack}>
            <p>
              <State state="unsure" word="Overridden" /> <Link to={`/rules/${pack}`}>{pack}</Link>:{" "}
              {lines
                .filter((line) => line.pack === pack)
                .map(({ field, by }) => `${field}, by ${by}`)
                .join("; ")}
            </p>
          </li>
        ))}
      </ul>
      <OverridesFile />
    </section>
  );
}

/** Overrides that are not gone by until somebody looks at them again; one that has no place any more can only be taken back. */
function Aside({ lines, done }: AmendedProps) {
  const me = useMe();
  if (lines.length === 0) return null;
  return (
    <ul className="plain index">
      {lines.map((line) => (
        <li key={line.id} className="flow">
          <p>
            <State state="must" word="Override set aside" />{" "}
            <Link to={`/rules/${line.pack}`}>{line.pack}</Link>, {line.field}: {line.setAside?.text}
          </p>
          {line.setAside?.gone === true && me !== null && keepsDesk(me) ? (
            <TakeBack line={line} of={null} done={done} />
          ) : null}
        </li>
      ))}
    </ul>
  );
}

/** The overrides in force for the command line. */
export function OverridesFile() {
  return (
    <p>
      <a href="/api/rules/overrides/file" download="rule-overrides.yaml">
        Save the overrides in force as a file
      </a>
      <span className="soft">
        , for the command line: earthbell assess SITE --overrides rule-overrides.yaml
      </span>
    </p>
  );
}

function Own({ packs }: { readonly packs: readonly OwnPack[] }) {
  return (
    <section className="flow">
      <h2>This desk’s own</h2>
      <p>The desk decides by these instead of, or beside, what the program brings along.</p>
      <ul className="plain index">
        {packs.map((own) => (
          <li key={own.pack.id} className="flow">
            <p>
              <Link to={`/rules/${own.pack.id}`}>{own.pack.title}</Link>
            </p>
            <OwnPackWords own={own} />
          </li>
        ))}
      </ul>
    </section>
  );
}

export function OwnPackWords({ own: { file, digest, replaces, pack } }: { readonly own: OwnPack }) {
  const { override } = pack;
  return (
    <div className="noted">
      <p>
        <State state="unsure" word={replaces === null ? "Added" : "Overridden"} />{" "}
        {replaces === null ? "Beside the built-in packs." : `In the place of ${replaces}.`}
        <br />
        {override === undefined
          ? "Its file does not say by whom and why: add override with by and because."
          : `By ${override.by}${override.on === undefined ? "" : `, ${override.on}`}: ${override.because}`}
      </p>
      <p className="note">
        from {file}, SHA-256 <span className="figure">{digest.slice(0, 12)}…</span>
      </p>
    </div>
  );
}
