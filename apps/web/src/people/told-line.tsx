import { counted } from "../page/counted.ts";
import { Link } from "../address/link.tsx";
import { durationWords, instantWords } from "../desk/instant.ts";
import { State } from "../page/state.tsx";
import type { ToldPerson } from "./told-records.ts";
import { addressOfPage, allHabitsWords, nameOf } from "./told-words.ts";

/** One person of the list. */
export function ToldLine({ person }: { readonly person: ToldPerson }) {
  const { ids, sites, paths, ways } = person;
  return (
    <li className="noted">
      <p>
        <Concerns person={person} />
        <Link to={addressOfPage(person)}>
          <strong className="address">{nameOf(person)}</strong>
        </Link>{" "}
        {ids.slice(0, 4).join(", ")}
        {ways.length > 1 ? <span className="soft">, {ways.length} addresses</span> : null}
        <br />
        <span className="soft">
          {paths === 0 ? "on no message path" : `on ${counted(paths, "path")}`} of {counted(sites, "site")};{" "}
          {allHabitsWords(person)}
        </span>
        {ways
          .filter(({ broken }) => broken !== null)
          .map(({ address, broken }) => (
            <span key={address}>
              <br />
              {ways.length > 1 ? `${address}: ` : ""}
              {broken?.reason}
            </span>
          ))}
      </p>
      <p className="note">
        <LastTold person={person} />
      </p>
    </li>
  );
}

/** What keeps messages from somebody just now. */
export function Concerns({ person: { ways, away, until } }: { readonly person: ToldPerson }) {
  const absence = away.find(({ now }) => now);
  const ended = until.find(({ past }) => past);
  return (
    <>
      {ways.some(({ broken }) => broken !== null) ? (
        <>
          <State state="fault" word="Broken address" />{" "}
        </>
      ) : null}
      {absence === undefined ? null : (
        <>
          <State state="unsure" word={`Away until ${absence.to}`} />{" "}
        </>
      )}
      {ended === undefined ? null : (
        <>
          <State state="unsure" word={`Post ended on ${ended.until}`} />{" "}
        </>
      )}
    </>
  );
}

const STATES = { waiting: "waits", claimed: "goes out", sent: "handed over", refused: "refused" } as const;

export function LastTold({ person: { message, answer } }: { readonly person: ToldPerson }) {
  return (
    <>
      {message === null
        ? "No message on record."
        : `Last message ${instantWords(message.at)}, about ${message.site} (${message.kind}): ${STATES[message.state]}.`}{" "}
      {answer === null
        ? message === null
          ? ""
          : "None was answered by its link."
        : `Last answered by link ${instantWords(answer.at)}, ${durationWords(answer.tookMs)} after it was handed over.`}
    </>
  );
}
