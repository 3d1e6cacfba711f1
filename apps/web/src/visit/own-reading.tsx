import {
  type PreconditionId,
  preconditionsFor,
  type RequestedReading,
  type Step,
  type Terminal,
  type Visit,
} from "@earthbell/engine";
import { useState } from "react";
import { useTheme } from "../look/theme.ts";
import { Choice } from "../page/choice.tsx";
import { Field } from "../page/field.tsx";
import type { KeptVisit } from "../keep/kept.ts";
import { addReading, missing, tick, untick } from "./change-visit.ts";
import { cautionsOfStep, withCautionsRead } from "./cautions-read.ts";
import { ReadingEntry } from "./reading-entry.tsx";
import { figureTyped } from "./reading-field.ts";
import { StepCautions } from "./step-cautions.tsx";
import { StepTicks } from "./step-ticks.tsx";
import type { ChangeVisit } from "./use-visit.ts";

const BETWEEN = ["+ to −", "+ to earth", "− to earth"] as const;
type Between = (typeof BETWEEN)[number];

interface Chosen {
  readonly on: string;
  readonly between: Between;
  readonly how: "plain" | "shunt" | "tester";
  readonly resistor: string;
  readonly testVoltage: string;
}

const WAYS = [
  ["plain", "the meter alone"],
  ["shunt", "a known resistor across the meter"],
  ["tester", "the insulation tester"],
] as const;
const ACTIONS = { plain: "read", shunt: "read-with-shunt", tester: "tester" } as const;

/** A reading that no step asked for, under the same preconditions as one that was. */
export function OwnReading({ kept, change }: { readonly kept: KeptVisit; readonly change: ChangeVisit }) {
  const [chosen, setChosen] = useState<Chosen>({
    on: kept.visit.circuits[0]?.id ?? kept.visit.strings[0]?.id ?? "",
    between: "+ to −",
    how: "plain",
    resistor: "100",
    testVoltage: "500",
  });
  const [value, setValue] = useState("");
  const roof = useTheme() === "roof";
  const action = ACTIONS[chosen.how];
  const step = stepFor(action);
  const now = new Date().toISOString();
  const open = missing(kept, step, now);
  const unread = cautionsOfStep(kept.read, step, now).fresh.length > 0;
  return (
    <details className="controls">
      <summary>Enter a reading of your own</summary>
      <div className="flow">
        <Choices visit={kept.visit} {...{ chosen, setChosen }} />
        <StepCautions
          {...{ step, read: kept.read, now }}
          markRead={() => {
            change((was) => ({ ...was, read: withCautionsRead(was.read, step, new Date().toISOString()) }));
          }}
        />
        {unread ? null : (
          <StepTicks
            step={step}
            missing={open}
            atHand={false}
            folded={roof}
            ticked={(id: PreconditionId, done) => {
              change((was) => {
                const { step: held, taken } = was;
                const ticked = done ? tick(was, step, id, new Date().toISOString()) : untick(was, id);
                return { ...ticked, step: held, taken };
              });
            }}
          />
        )}
        {unread || open.length > 0 || !isSet(chosen) ? null : (
          <ReadingEntry
            key={JSON.stringify(chosen)}
            request={requestOf(chosen, kept.visit)}
            count="of your own"
            atHand={false}
            value={value}
            typed={setValue}
            taken={(reading) => {
              change((was) => addReading(was, reading, new Date().toISOString()));
              setValue("");
            }}
          />
        )}
      </div>
    </details>
  );
}

function stepFor(action: Step["action"]): Step {
  return {
    action,
    string: "",
    minutes: 0,
    bits: 0,
    why: "",
    requires: preconditionsFor(action),
    readings: [],
  };
}

function requestOf(chosen: Chosen, visit: Visit): RequestedReading {
  const { on, between, how } = chosen;
  const wanted = how === "tester" ? "insulation-tester" : "voltmeter";
  const name = visit.instruments.find(({ kind }) => kind === wanted)?.name;
  const from: Terminal = between === "− to earth" ? "-" : "+";
  const to = between === "+ to −" && how !== "tester" ? "-" : "earth";
  return {
    with: name ?? (how === "tester" ? "tester" : "meter"),
    on,
    from,
    to,
    ...(how === "shunt" ? { shunt: `${chosen.resistor} kΩ` } : {}),
    ...(how === "tester" ? { testVoltage: `${chosen.testVoltage} V` } : {}),
  };
}

/** The figure that belongs to the way of measuring is there; while it is typed anew, nothing is read against it. */
function isSet({ how, resistor, testVoltage }: Chosen): boolean {
  return how === "plain" || Number(how === "shunt" ? resistor : testVoltage) > 0;
}

interface ChoicesProps {
  readonly visit: Visit;
  readonly chosen: Chosen;
  readonly setChosen: (chosen: Chosen) => void;
}

function Choices({ visit, chosen, setChosen }: ChoicesProps) {
  const places = [...visit.circuits.map(({ id }) => id), ...visit.strings.map(({ id }) => id)];
  const set = (part: Partial<Chosen>): void => {
    setChosen({ ...chosen, ...part });
  };
  return (
    <div className="fields">
      <Choice
        words="On"
        value={chosen.on}
        choices={places.map((id) => [id, id] as const)}
        chosen={(on) => {
          set({ on });
        }}
      />
      <Choice
        words="Between"
        value={chosen.between}
        choices={BETWEEN.map((one) => [one, one] as const)}
        chosen={(between) => {
          set({ between: between as Between });
        }}
      />
      <Choice
        words="With"
        value={chosen.how}
        choices={WAYS}
        chosen={(how) => {
          set({ how: how as Chosen["how"] });
        }}
      />
      <Setting {...{ chosen, set }} />
    </div>
  );
}

interface SettingProps {
  readonly chosen: Chosen;
  readonly set: (part: Partial<Chosen>) => void;
}

/** The figure that belongs to the way of measuring, if one does. */
function Setting({ chosen, set }: SettingProps) {
  if (chosen.how === "plain") return null;
  const [name, words] =
    chosen.how === "shunt"
      ? (["resistor", "Resistor, kΩ"] as const)
      : (["testVoltage", "Test voltage, V"] as const);
  return (
    <Field
      words={words}
      kind="figures"
      value={chosen[name]}
      typed={(typed) => {
        set({ [name]: figureTyped(typed, chosen[name]) });
      }}
    />
  );
}
