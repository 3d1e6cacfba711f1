import type { StateName } from "../page/state.tsx";

/** Something that needs a person: what, why, by when, and where it is done. */
export interface Matter {
  readonly key: string;
  readonly state: StateName;
  readonly word: string;
  readonly title: string;
  readonly why: string;
  readonly byWhen: string;
  readonly to: string;
}
