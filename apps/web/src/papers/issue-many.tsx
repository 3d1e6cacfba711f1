import { useRef, useState } from "react";
import { DeskFault, readDesk, tellDesk } from "../desk/ask-desk.ts";
import { FaultText } from "../desk/fault-text.tsx";
import { Choice } from "../page/choice.tsx";
import { announce } from "../page/announce.tsx";
import { type Issued, KIND_WORDS, type PaperStates, SITE_KINDS, type SiteKind } from "./paper-records.ts";
import { type Asked, toMakePath } from "./site-rows.ts";

interface Running {
  readonly done: number;
  readonly all: number;
  readonly failed: readonly { readonly site: string; readonly why: string }[];
  readonly ended: boolean;
}

/** Papers that are asked for at once: one is made while the answer to the other is on its way. */
const AT_ONCE = 2;

interface IssueManyProps {
  readonly asked: Asked;
  readonly toMake: PaperStates["toMake"];
  readonly done: () => void;
}

/** Makes a paper of every site asked for that lacks it or has it outdated, one after the other, and can be stopped. */
export function IssueMany({ asked, toMake, done }: IssueManyProps) {
  const [kind, setKind] = useState<SiteKind>("owner-notice");
  const [running, setRunning] = useState<Running | null>(null);
  const [fault, setFault] = useState<DeskFault | null>(null);
  const stopped = useRef(false);
  const busy = running !== null && !running.ended;
  const start = async (): Promise<void> => {
    stopped.current = false;
    setFault(null);
    const wanted = await readDesk<readonly string[]>(toMakePath(asked, kind));
    const end = await issueAll(wanted, kind, () => stopped.current, setRunning);
    announce(endWords(end));
    done();
  };
  return (
    <details className={running === null ? "controls" : ""}>
      <summary>Issue what is lacking or outdated</summary>
      <div className="flow">
        <div className="fields">
          <Choice
            words="Paper"
            value={kind}
            choices={SITE_KINDS.map((one) => [one, KIND_WORDS[one]] as const)}
            chosen={(chosen) => {
              setKind(chosen as SiteKind);
            }}
          />
        </div>
        <p className="row">
          <button
            type="button"
            className="main"
            disabled={busy || toMake[kind] === 0}
            onClick={() => {
              start().catch((error: unknown) => {
                setFault(error instanceof DeskFault ? error : new DeskFault("PAGE_FAULT", String(error)));
              });
            }}
          >
            Issue {toMake[kind]} as PDF
          </button>
          {busy ? (
            <button
              type="button"
              onClick={() => {
                stopped.current = true;
              }}
            >
              Stop after those under way
            </button>
          ) : null}
        </p>
        <FaultText fault={fault} />
        {running === null ? null : <Progress running={running} />}
      </div>
    </details>
  );
}

function Progress({ running }: { readonly running: Running }) {
  const { done, all, failed, ended } = running;
  return (
    <div className="flow">
      <p>
        <progress value={done} max={all} aria-label="Papers made" /> {done} of {all}
        {ended ? `. ${endWords(running)}` : ""}
      </p>
      {failed.length === 0 ? null : (
        <ul>
          {failed.map(({ site, why }) => (
            <li key={site}>
              {site}: {why}
            </li>
          ))}
        </ul>
      )}
    </div>
  );
}

function endWords({ done, all, failed }: Running): string {
  const left = all - done;
  const words = [
    `${done - failed.length} issued`,
    ...(failed.length > 0 ? [`${failed.length} could not be made`] : []),
    ...(left > 0 ? [`${left} left`] : []),
  ];
  return `${words.join(", ")}.`;
}

/** The desk takes so many requests a minute; what it had no time for is asked again a little later. */
const PAUSE_MS = 5000;

async function issueOne(kind: SiteKind, site: string, isStopped: () => boolean): Promise<void> {
  for (;;)
    try {
      await tellDesk<Issued>("/api/papers", { kind, site, formats: ["pdf"] });
      return;
    } catch (error) {
      const tooMany = error instanceof DeskFault && error.code === "REQUEST_TOO_MANY";
      if (!tooMany || isStopped()) throw error;
      await new Promise((later) => setTimeout(later, PAUSE_MS));
    }
}

async function issueAll(
  sites: readonly string[],
  kind: SiteKind,
  isStopped: () => boolean,
  tell: (running: Running) => void,
): Promise<Running> {
  const failed: { site: string; why: string }[] = [];
  const left = [...sites];
  let done = 0;
  const now = (ended: boolean): Running => ({ done, all: sites.length, failed: [...failed], ended });
  tell(now(false));
  const worker = async (): Promise<void> => {
    for (let site = left.shift(); site !== undefined && !isStopped(); site = left.shift()) {
      try {
        await issueOne(kind, site, isStopped);
      } catch (error) {
        failed.push({ site, why: error instanceof DeskFault ? error.message : String(error) });
      }
      done += 1;
      tell(now(false));
    }
  };
  await Promise.all(Array.from({ length: AT_ONCE }, worker));
  tell(now(true));
  return now(true);
}
