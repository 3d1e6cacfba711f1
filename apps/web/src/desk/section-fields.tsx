import { useState } from "react";
import { Choice } from "../page/choice.tsx";
import { Field } from "../page/field.tsx";
import { keepSecret } from "./keep-secret.ts";

type Data = Readonly<Record<string, unknown>>;

const FIELDS: Readonly<
  Record<"email" | "limits" | "drills", readonly (readonly [name: string, words: string, hint: string])[]>
> = {
  email: [
    ["host", "Server", "its name, without a port"],
    ["port", "Port", "465 for tls, 587 for starttls"],
    ["user", "User", "blank: the server asks for none"],
    ["from", "From", "one address"],
    ["fromName", "Name beside it", "blank: none"],
    ["replyTo", "Answers go to", "blank: to the sender"],
    ["timeout", "Longest wait", "1 s to 5 min; blank: 90 s"],
  ],
  limits: [
    ["repeatEvery", "A message is repeated every", "5 min to 24 h"],
    ["upkeepRepeatEvery", "One about upkeep every", "1 h to 30 d"],
    ["acknowledgementHolds", "An acknowledgement holds", "1 h to 7 d"],
    ["unsignedReminderEvery", "An unsigned case is recalled every", "1 d to 90 d"],
    ["furtherSignAfter", "A further sign is told after", "1 min to 2 h"],
    ["settledAfter", "An alarm has settled after", "1 min to 24 h"],
    ["staleAfter", "A silent one is stale after", "1 h to 30 d"],
    ["longestShelf", "Shelved at most for", "1 h to 7 d"],
    ["longestMaintenance", "Out of service at most for", "1 h to 30 d"],
    ["drillAnswerWithin", "A drill is answered within", "5 min to 7 d"],
    ["drillBeaconBurns", "A drill lights a beacon for at most", "1 min to 24 h"],
    ["lifeGrace", "A sign of life may be late by", "1 min to 24 h"],
    ["clockAhead", "A clock may be ahead by", "1 min to 24 h"],
    ["floodWindow", "A flood is counted over", "1 min to 24 h"],
    ["floodAlarms", "A flood is more alarms than", "2 to 10,000"],
    ["commonCauseSites", "A common cause is this many sites", "2 to 1,000"],
    ["messagesPerRound", "Messages in a round", "1 to 1,000"],
    ["insulationReturnRatio", "Insulation is back above, times the threshold", "1 to 10"],
  ],
  drills: [["everyMonths", "A drill every, months", "1 to 24"]],
};
const SECURITY = ["starttls", "tls", "starttls-if-offered", "none"].map((one) => [one, one] as const);

interface SectionFieldsProps {
  readonly section: "email" | "limits" | "drills";
  readonly value: unknown;
  readonly busy: boolean;
  readonly put: (wanted: () => Promise<object>) => void;
}

/** A section as one field for each of its values; blank leaves a value as the program ships it. */
export function SectionFields({ section, value, busy, put }: SectionFieldsProps) {
  const before = (value ?? {}) as Data;
  const [typed, setTyped] = useState<Readonly<Record<string, string>>>(() =>
    Object.fromEntries(FIELDS[section].map(([name]) => [name, textOf(before[name])])),
  );
  const [security, setSecurity] = useState(textOf(before["security"]) || "starttls");
  const [password, setPassword] = useState("");
  const wanted = async (): Promise<object> => {
    const given = Object.entries(typed).map(([name, text]) => [name, valueOf(name, text)] as const);
    const mail = section === "email" ? { security, ...(await passwordOf(before, typed, password)) } : {};
    const all = { ...before, ...mail, ...Object.fromEntries(given) };
    const fields = Object.fromEntries(Object.entries(all).filter(([, one]) => one !== undefined));
    return Object.keys(fields).length === 0 ? {} : { fields };
  };
  return (
    <form
      className="flow"
      onSubmit={(event) => {
        event.preventDefault();
        put(wanted);
      }}
    >
      <div className="fields">
        {FIELDS[section].map(([name, words, hint]) => (
          <Field
            key={name}
            words={words}
            hint={hint}
            value={typed[name] ?? ""}
            typed={(text) => {
              setTyped({ ...typed, [name]: text });
            }}
          />
        ))}
        {section === "email" ? (
          <>
            <Choice words="Protection" value={security} choices={SECURITY} chosen={setSecurity} />
            <Field
              words="New password"
              hint={before["password"] === undefined ? "none is set" : "blank: as it is; it is never shown"}
              value={password}
              typed={setPassword}
              kind="secret"
            />
          </>
        ) : null}
      </div>
      <button type="submit" disabled={busy}>
        Save this section
      </button>
    </form>
  );
}

function textOf(value: unknown): string {
  return typeof value === "string" || typeof value === "number" ? String(value) : "";
}

/** Text whatever stands in it: a sender may be called by a number. */
const WORDS: ReadonlySet<string> = new Set(["host", "user", "from", "fromName", "replyTo"]);

/** As the file would have it: a plain number as a number, nothing as nothing. */
function valueOf(name: string, text: string): string | number | undefined {
  const plain = text.trim();
  if (plain === "") return undefined;
  return !WORDS.has(name) && /^\d+(?:\.\d+)?$/u.test(plain) ? Number(plain) : plain;
}

/** A user that is taken out takes the password along. */
async function passwordOf(before: Data, typed: Readonly<Record<string, string>>, password: string) {
  if ((typed["user"] ?? "").trim() === "") return { password: undefined };
  return password === ""
    ? { password: before["password"] }
    : { password: await keepSecret("email", password) };
}
