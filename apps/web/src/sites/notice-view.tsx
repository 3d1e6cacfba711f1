import {
  drawNoticeCurve,
  hoursWords,
  type NoticeAnswer,
  type Site,
  type SiteNotice,
} from "@earthbell/engine";
import { useState } from "react";
import { Drawn } from "../drawing/drawing.tsx";
import { useAnswer } from "../engine/use-answer.ts";
import { SourceNote } from "../page/source-note.tsx";
import { Awaited } from "./awaited.tsx";

/** How long until a person knows, path by path and together, and what one change would gain. */
export default function NoticeView({ site, onDate }: { readonly site: Site; readonly onDate: string }) {
  const noticed = useAnswer("notice", [site, onDate]);
  if (site.paths.length === 0) return <p>No path is recorded, so nobody would be told.</p>;
  return <Awaited answer={noticed}>{(notice) => <Notice notice={notice} />}</Awaited>;
}

const MOST_CURVES = 4;
const nameOf = ({ channels }: NoticeAnswer): string =>
  channels.length === 1 ? `by ${channels[0]!} alone` : `by ${channels.join(", ")} together`;

function Notice({ notice }: { readonly notice: SiteNotice }) {
  const [tried, setTried] = useState<number | null>(null);
  const together = notice.answers.at(-1)!;
  const change = tried === null ? undefined : notice.changes[tried];
  const answers =
    change === undefined
      ? [together, ...notice.answers.slice(0, -1)].map((answer) => ({ name: nameOf(answer), answer }))
      : [
          { name: "with the change", answer: change.after },
          { name: "as it is", answer: change.before },
        ];
  return (
    <>
      <section className="flow">
        <h2>Until somebody knows</h2>
        <Drawn
          draw={(width) =>
            drawNoticeCurve({
              title: "Share of faults not yet noticed",
              answers: answers.slice(0, MOST_CURVES),
              width,
            })
          }
          most={672}
        />
        {notice.notPerceived.length === 0 ? null : (
          <p>Not counted, because its signal does not reach anybody: {notice.notPerceived.join(", ")}.</p>
        )}
      </section>
      <Changes changes={notice.changes} tried={tried} attempt={setTried} />
      <Causes causes={notice.causes.at(-1) ?? []} />
      <section className="flow">
        <h2>Taken for granted</h2>
        <ul className="plain index">
          {notice.assumptions.map(({ value, source, tag }) => (
            <li key={value} className="noted">
              <p>{value}</p>
              <SourceNote source={source} tag={tag} />
            </li>
          ))}
        </ul>
      </section>
    </>
  );
}

interface ChangesProps {
  readonly changes: SiteNotice["changes"];
  /** Index of the change that is tried; null: the site as it is. */
  readonly tried: number | null;
  readonly attempt: (index: number | null) => void;
}

function Changes({ changes, tried, attempt }: ChangesProps) {
  return (
    <section className="flow">
      <fieldset>
        <legend>What one change would gain</legend>
        <label className="tick">
          <input
            type="radio"
            name="change"
            checked={tried === null}
            onChange={() => {
              attempt(null);
            }}
          />
          <span>As it is</span>
        </label>
        {changes.map(({ kind, words, gainedHours }, index) => (
          <label key={kind} className="tick">
            <input
              type="radio"
              name="change"
              checked={tried === index}
              onChange={() => {
                attempt(index);
              }}
            />
            <span>
              {words} <span className="soft">On average {hoursWords(gainedHours)} sooner.</span>
            </span>
          </label>
        ))}
      </fieldset>
    </section>
  );
}

function Causes({ causes: all }: { readonly causes: SiteNotice["causes"][number] }) {
  const causes = all.filter(({ hours }) => hours > 1 / 60);
  if (causes.length === 0) return null;
  return (
    <section className="flow">
      <h2>What holds it up</h2>
      <table>
        <thead>
          <tr>
            <th scope="col">Cause</th>
            <th scope="col" className="number">
              Mean time gone if it alone were
            </th>
          </tr>
        </thead>
        <tbody>
          {causes.map(({ cause, hours }) => (
            <tr key={cause}>
              <th scope="row">{cause}</th>
              <td className="number">{hoursWords(hours)}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </section>
  );
}
