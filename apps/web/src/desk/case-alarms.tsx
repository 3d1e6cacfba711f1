import { type Alarm, alarmState, type AlarmState, SIGNS } from "@earthbell/model";
import { State, type StateName } from "../page/state.tsx";
import { instantWords } from "./instant.ts";
import { capital } from "./matters.ts";

const SHOWN: Readonly<Record<AlarmState, readonly [StateName, string]>> = {
  normal: ["proven", "Gone"],
  unacknowledged: ["fault", "There, unanswered"],
  acknowledged: ["fault", "There, answered"],
  "returned-unacknowledged": ["unsure", "Gone, unanswered"],
  "latched-unacknowledged": ["unsure", "Gone, unanswered and unsigned"],
  "latched-acknowledged": ["must", "Gone, cause unsigned"],
  shelved: ["unsure", "Put aside"],
  "suppressed-by-design": ["unsure", "Suppressed"],
  "out-of-service": ["unsure", "Out of service"],
};

/** The alarms of a case by their sign. */
export function CaseAlarms({ alarms }: { readonly alarms: readonly Alarm[] }) {
  const now = Date.now();
  return (
    <section className="flow">
      <h2>Signs of it</h2>
      <ul className="plain index">
        {alarms.map((alarm) => {
          const [state, word] = SHOWN[alarmState(alarm, now)];
          const times = alarm.occurrence > 1 ? `It has come ${alarm.occurrence} times.` : null;
          return (
            <li key={alarm.id} className="noted">
              <p>
                <State state={state} word={word} /> {capital(SIGNS[alarm.sign].title)} {times}
              </p>
              <p className="note">
                {alarm.activeAt === null ? null : <>since {instantWords(alarm.activeAt)}</>}
                {alarm.clearedAt === null ? null : <>, cleared {instantWords(alarm.clearedAt)}</>}
                {alarm.acknowledged === null ? null : <>; answered by {alarm.acknowledged.by}</>}
              </p>
            </li>
          );
        })}
      </ul>
    </section>
  );
}
