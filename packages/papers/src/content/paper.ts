import type { Tag } from "@earthbell/engine";
import type { Language } from "../language/language.ts";
import type { Issue } from "../identity/issue.ts";
import type { Picture } from "../pictures/shown-photos.ts";
import type { PaperKind } from "./paper-kind.ts";

/** One paper as content, before it is laid out as PDF or as HTML. */
export interface Paper {
  readonly kind: PaperKind;
  readonly language: Language;
  readonly title: string;
  /** What it is about: the site by its name. */
  readonly subject: string;
  /** notice: one page in the largest type that fits; record: as many pages as it takes; wide: the same, lying. */
  readonly look: "notice" | "record" | "wide";
  readonly blocks: readonly Block[];
  readonly issue: Issue;
}

export type Block =
  | Heading
  | Paragraph
  | List
  | Table
  | Figures
  | Drawing
  | Photographs
  | Checklist
  | CautionBox
  | Fields
  | Signatures
  | Columns;

export interface Heading {
  readonly kind: "heading";
  readonly level: 1 | 2;
  readonly text: string;
}

export interface Paragraph {
  readonly kind: "paragraph";
  readonly text: string;
  /** lead: what is read first; aside: in secondary ink. */
  readonly weight?: "lead" | "aside";
}

export interface List {
  readonly kind: "list";
  readonly numbered?: boolean;
  readonly strong?: boolean;
  readonly items: readonly string[];
}

/** A cell holds text; an empty text is a place to write in. */
export interface Table {
  readonly kind: "table";
  readonly caption: string;
  readonly columns: readonly { readonly head: string; readonly share: number; readonly right?: boolean }[];
  readonly rows: readonly (readonly string[])[];
  /** Rows are for writing by hand and need its height. */
  readonly toWrite?: boolean;
}

/** A figure never stands without its source beside it. */
export interface Figure {
  readonly label: string;
  readonly value: string;
  readonly source: string;
  readonly tag: Tag;
}

export interface Figures {
  readonly kind: "figures";
  readonly caption: string;
  readonly rows: readonly Figure[];
}

export interface Drawing {
  readonly kind: "drawing";
  readonly svg: string;
  /** The drawing in words, for somebody who cannot see it. */
  readonly alt: string;
  readonly caption: string;
  /** Share of the width of the text, up to 1. */
  readonly width: number;
}

/** Photos beside each other, each with what is on record of it. */
export interface Photographs {
  readonly kind: "photographs";
  readonly across: 2 | 4;
  readonly items: readonly Photograph[];
}

export interface Photograph {
  readonly picture: Picture;
  /** What is known of it, for somebody who cannot see it. */
  readonly alt: string;
  readonly caption: string;
}

export interface Checklist {
  readonly kind: "checklist";
  readonly items: readonly { readonly text: string; readonly note?: string }[];
}

/** Safety text, which stands before whatever leads to work. */
export interface CautionBox {
  readonly kind: "cautions";
  readonly title: string;
  readonly items: readonly string[];
  /** Who answers for the wording and when it was last read against its source. */
  readonly reviewed: string;
}

/** Labels with their value, or with a line to write on where there is none. */
export interface Fields {
  readonly kind: "fields";
  readonly rows: readonly { readonly label: string; readonly value?: string; readonly lines?: number }[];
}

export interface Signatures {
  readonly kind: "signatures";
  readonly roles: readonly string[];
  /** Whoever is on record for a role; the signature is still given by hand. */
  readonly named?: readonly { readonly role: string; readonly name: string; readonly on: string }[];
}

/** Two stacks of blocks side by side, where the page is wide enough. */
export interface Columns {
  readonly kind: "columns";
  /** Share of the left stack. */
  readonly share: number;
  readonly left: readonly Block[];
  readonly right: readonly Block[];
}
