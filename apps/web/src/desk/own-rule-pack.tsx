import { BUILT_IN_PACKS, overridableValues, withOverrides } from "@earthbell/engine";
import { State } from "../page/state.tsx";
import { inForce, type OverrideLine } from "../rules/desk-rules.ts";
import { RulePackView } from "../rules/rule-pack-view.tsx";
import { FaultText } from "./fault-text.tsx";
import { instantWords } from "./instant.ts";
import { keepsDesk } from "./keeps-desk.ts";
import { OverrideValue } from "./override-value.tsx";
import { OverridesFile, OwnPackWords, useOwnPacks } from "./own-packs.tsx";
import type { Me } from "./records.ts";
import { useAnswer } from "./use-answer.ts";
import { Asking } from "../page/asking.tsx";

/** A rule pack as this desk goes by it: its own where it has one, with the values that its people replaced. */
export default function OwnRulePack({ id, me }: { readonly id: string; readonly me: Me }) {
  const { value, fault } = useOwnPacks();
  const overrides = useAnswer<readonly OverrideLine[]>("/api/rules/overrides", ["watch"]);
  const own = value?.find(({ pack }) => pack.id === id);
  if (value === undefined && fault === null) return <Asking />;
  const base = own?.pack ?? BUILT_IN_PACKS.find((one) => one.id === id);
  if (base === undefined) return <RulePackView pack={undefined} />;
  const lines = (overrides.value ?? []).filter(({ pack }) => pack === id);
  const known = new Map(overridableValues(base).map((one) => [one.field, one]));
  const pack = withOverrides(
    base,
    inForce(lines).filter(({ field }) => known.has(field)),
  );
  return (
    <RulePackView
      pack={pack}
      above={
        <>
          {own === undefined ? null : <OwnPackWords own={own} />}
          <FaultText fault={fault ?? overrides.fault} />
          <History lines={lines} />
        </>
      }
      below={(field) => {
        const of = known.get(field);
        const line = lines.find((one) => one.field === field && one.ended === null);
        if (of === undefined || overrides.value === undefined) return null;
        return (
          <OverrideValue
            key={`${field} ${line?.id ?? ""}`}
            pack={id}
            of={of}
            line={line ?? null}
            may={keepsDesk(me)}
            done={overrides.again}
          />
        );
      }}
    />
  );
}

/** Overrides of the pack that were revised or taken back. */
function History({ lines }: { readonly lines: readonly OverrideLine[] }) {
  const now = lines.filter(({ ended, setAside }) => ended === null && setAside === null).length;
  const aside = lines.filter(({ setAside }) => setAside !== null);
  const past = lines.filter(({ ended }) => ended !== null);
  if (lines.length === 0) return null;
  return (
    <>
      {now === 0 ? null : (
        <p>
          <State state="unsure" word="Overridden" /> {now === 1 ? "One value" : `${now} values`} of this pack{" "}
          {now === 1 ? "is" : "are"} not as published. Each is marked below.
        </p>
      )}
      {aside.map(({ id, field, setAside }) => (
        <p key={id}>
          <State state="must" word="Override set aside" /> {field}: {setAside?.text}
        </p>
      ))}
      {now === 0 ? null : <OverridesFile />}
      {past.length === 0 ? null : (
        <details>
          <summary>Overrides that have ended ({past.length})</summary>
          <ul className="plain index">
            {past.map(({ id, field, value, replaced, by, putAt, because, source, ended }) => (
              <li key={id}>
                <p>
                  <span className="figure">{field}</span>: {value} in place of {replaced}, by {by},{" "}
                  {instantWords(putAt)}: {because} (from {source})
                  <br />
                  <span className="soft">
                    Ended by {ended?.by}, {instantWords(ended?.at ?? 0)}: {ended?.because}
                  </span>
                </p>
              </li>
            ))}
          </ul>
        </details>
      )}
    </>
  );
}
