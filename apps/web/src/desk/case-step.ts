import type { Case } from "@earthbell/model";
import { tellDesk } from "./ask-desk.ts";
import type { Me } from "./records.ts";

/** What every step of a case is given. */
export interface CaseStepProps {
  readonly one: Case;
  readonly me: Me;
  /** Called after a step was taken. */
  readonly done: () => void;
}

/** Takes a step on a case. @returns what the desk says of it @throws DeskFault with the text of the refusal */
export async function stepCase(one: Case, step: Readonly<Record<string, unknown>>): Promise<string> {
  return (await tellDesk(`/api/cases/${encodeURIComponent(one.id)}/steps`, step)).text;
}
