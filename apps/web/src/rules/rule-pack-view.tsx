import { type Condition, formatQuantity, type Ohms, type Provenance, type RulePack } from "@earthbell/engine";
import { createContext, Fragment, type ReactNode, useContext } from "react";
import { Link } from "../address/link.tsx";
import { Page } from "../page/page.tsx";
import { SourceNote } from "../page/source-note.tsx";
import { State } from "../page/state.tsx";
import { placesOf } from "./places-of.ts";

interface SourcedProps {
  readonly children: ReactNode;
  readonly from: Provenance;
  /** Places of the numbers in it that may be overridden. */
  readonly fields?: readonly string[];
}

/** A value and where it comes from, in the margin beside it. */
function Sourced({ children, from, fields = [] }: SourcedProps) {
  const below = useContext(BelowValue);
  return (
    <li className="noted">
      <div className="flow">
        <p>{children}</p>
        {below === null ? null : fields.map((field) => <Fragment key={field}>{below(field)}</Fragment>)}
      </div>
      <SourceNote source={from.source} tag={from.tag} />
    </li>
  );
}

const ohms = (value: number): string => formatQuantity(value as Ohms, "resistance");

function bounds(
  { above, atMost }: { readonly above?: number; readonly atMost?: number },
  unit: string,
): string {
  const low = above === undefined ? "" : `above ${above} ${unit}`;
  const high = atMost === undefined ? "" : `up to ${atMost} ${unit}`;
  return [low, high].filter((part) => part !== "").join(", ");
}

function conditionWords(condition: Condition): string {
  switch (condition.fact) {
    case "max-voltage":
      return `highest array voltage ${bounds(condition, "V")}`;
    case "power-kilowatts":
      return `array power ${bounds(condition, "kW")}`;
    case "parallel-strings":
      return `strings in parallel ${bounds(condition, "")}`;
    case "date":
      return `work ${condition.from === undefined ? "" : `from ${condition.from} `}${condition.until === undefined ? "" : `until ${condition.until}`}`.trim();
    default:
      return `${condition.fact} ${condition.is.join(" or ")}`;
  }
}

/** What stands below a number of the pack, by its place: what somebody who runs a desk may do with it. */
const BelowValue = createContext<((field: string) => ReactNode) | null>(null);

interface RulePackViewProps {
  /** Undefined where there is none of that id. */
  readonly pack: RulePack | undefined;
  /** What is to be known before its values. */
  readonly above?: ReactNode;
  readonly below?: (field: string) => ReactNode;
}

export function RulePackView({ pack, above, below }: RulePackViewProps) {
  if (pack === undefined)
    return (
      <Page title="No such rule pack">
        <p>
          All that are kept are under <Link to="/rules">Rules</Link>.
        </p>
      </Page>
    );
  return (
    <Page title={pack.title} under={`${pack.edition}. ${placesOf(pack)}.`}>
      {above}
      <BelowValue value={below ?? null}>
        <InForce pack={pack} />
        <Duty pack={pack} />
        <AlarmMust pack={pack} />
        <Limits pack={pack} />
      </BelowValue>
      {(pack.notes ?? []).length === 0 ? null : (
        <section className="flow">
          <h2>To know when using it</h2>
          <ul className="plain index">
            {pack.notes?.map((note) => (
              <Sourced key={note.text} from={note}>
                {note.text}
              </Sourced>
            ))}
          </ul>
        </section>
      )}
    </Page>
  );
}

function InForce({ pack: { inForce } }: { readonly pack: RulePack }) {
  return (
    <section className="flow">
      <h2>In force</h2>
      {inForce.length === 0 ? (
        <p className="soft">No dates are kept; a site file has to name this pack.</p>
      ) : null}
      <ul className="plain index">
        {inForce.map((window) => (
          <Sourced key={`${window.from ?? ""}${window.until ?? ""}`} from={window}>
            {window.from ?? "since ever"} to {window.until ?? "now"}, by the day the{" "}
            {window.basis === "work-done" ? "work was done" : "work began"};{" "}
            {window.binding === "choice" ? "another edition may be chosen instead" : "mandatory"}
          </Sourced>
        ))}
      </ul>
    </section>
  );
}

function fieldsOfRow({ when }: RulePack["duty"][number], at: number): readonly string[] {
  return when.flatMap((condition, nth) =>
    (["above", "atMost"] as const)
      .filter((bound) => bound in condition)
      .map((bound) => `duty[${at}].when[${nth}].${bound}`),
  );
}

const ALARM = {
  required: ["must", "Alarm required"],
  "not-required": ["proven", "No alarm required"],
  undecided: ["unsure", "Undecided"],
} as const;

function Duty({ pack: { duty } }: { readonly pack: RulePack }) {
  return (
    <section className="flow">
      <h2>When an alarm is required</h2>
      <p className="soft">Read from the top; the first row whose conditions all hold decides.</p>
      <ol className="plain index">
        {duty.map((row, at) => (
          <Sourced key={row.id} from={row} fields={fieldsOfRow(row, at)}>
            <State state={ALARM[row.alarm][0]} word={ALARM[row.alarm][1]} /> {row.text}
            <br />
            <span className="small soft">
              {row.when.length === 0
                ? "in every other case"
                : `if ${row.when.map(conditionWords).join(" and ")}`}
              {row.settledBy === undefined ? "" : `; settled by ${row.settledBy}`}
            </span>
          </Sourced>
        ))}
      </ol>
    </section>
  );
}

function AlarmMust({ pack: { alarm } }: { readonly pack: RulePack }) {
  if (alarm === undefined) return null;
  const {
    signals,
    perceived,
    leastAddresses,
    repeatEveryMinutes,
    repeatUntil,
    until,
    ownerInstructions,
    checkEveryHours,
  } = alarm;
  return (
    <section className="flow">
      <h2>What the alarm must do</h2>
      <ul className="plain index">
        <Sourced from={signals}>Signal by {signals.value.join(", or ")}.</Sourced>
        {perceived === undefined ? null : <Sourced from={perceived}>{perceived.value}</Sourced>}
        {leastAddresses === undefined ? null : (
          <Sourced from={leastAddresses} fields={["alarm.leastAddresses"]}>
            A message goes to at least {leastAddresses.value} addresses.
          </Sourced>
        )}
        {repeatEveryMinutes === undefined ? null : (
          <Sourced from={repeatEveryMinutes} fields={["alarm.repeatEveryMinutes"]}>
            A message is repeated at least every {repeatEveryMinutes.value} min.
          </Sourced>
        )}
        {repeatUntil === undefined ? null : (
          <Sourced from={repeatUntil}>It is repeated until {repeatUntil.value.join(" or ")}.</Sourced>
        )}
        {until === undefined ? null : (
          <Sourced from={until}>The indication goes on until {until.value.join(" or ")}.</Sourced>
        )}
        {ownerInstructions === undefined ? null : (
          <Sourced from={ownerInstructions}>
            The owner is given written instructions{ownerInstructions.value ? "" : ": not asked"}.
          </Sourced>
        )}
        {checkEveryHours === undefined ? null : (
          <Sourced from={checkEveryHours} fields={["alarm.checkEveryHours"]}>
            Insulation is checked at least every {checkEveryHours.value} h.
          </Sourced>
        )}
      </ul>
    </section>
  );
}

function Limits({ pack: { insulationThreshold, residual, insulationTest } }: { readonly pack: RulePack }) {
  if (insulationThreshold === undefined && residual === undefined && insulationTest === undefined)
    return null;
  return (
    <section className="flow">
      <h2>Limits</h2>
      <ul className="plain index">
        {insulationThreshold === undefined ? null : (
          <Sourced from={insulationThreshold.rating}>
            Insulation threshold, by{" "}
            {insulationThreshold.rating.value === "array-kilowatts"
              ? "array power in kW"
              : "inverter rating in kVA"}
            :
          </Sourced>
        )}
        {insulationThreshold?.rows.map((row, at) => (
          <Sourced key={row.above} from={row.ohms} fields={[`insulationThreshold.rows[${at}].ohms`]}>
            {bounds(row, "")}: <span className="figure">{ohms(row.ohms.value)}</span>
          </Sourced>
        ))}
        {residual?.map((row, at) => {
          const limit = row.milliamps ?? row.milliampsPerKilovoltampere!;
          const form = row.milliamps === undefined ? "milliampsPerKilovoltampere" : "milliamps";
          return (
            <Sourced key={row.above} from={limit} fields={[`residual[${at}].${form}`]}>
              Continuous residual current, inverter {bounds(row, "kVA")}:{" "}
              <span className="figure">
                {limit.value} {row.milliamps === undefined ? "mA per kVA" : "mA"}
              </span>
            </Sourced>
          );
        })}
        {insulationTest?.map((row, at) => (
          <Sourced
            key={row.testVoltage.value + row.minimumOhms.value}
            from={row.minimumOhms}
            fields={[`insulationTest[${at}].testVoltage`, `insulationTest[${at}].minimumOhms`]}
          >
            Insulation test, system voltage{" "}
            {row.below === undefined
              ? row.atMost === undefined
                ? "above"
                : `up to ${row.atMost} V`
              : `below ${row.below} V`}
            :{" "}
            <span className="figure">
              {row.testVoltage.value} V, at least {ohms(row.minimumOhms.value)}
            </span>
          </Sourced>
        ))}
      </ul>
    </section>
  );
}
