import type { Tag } from "@earthbell/engine";
import type { Language } from "./language.ts";

/** Words around every paper: its identity, its footers, its lines to sign on. */
export interface FrameWords {
  readonly page: string;
  readonly of: string;
  readonly revision: string;
  readonly identity: string;
  readonly number: string;
  readonly date: string;
  readonly madeBy: string;
  readonly notStated: string;
  readonly program: string;
  readonly digest: string;
  readonly changed: string;
  readonly firstIssue: string;
  readonly source: string;
  readonly figure: string;
  readonly value: string;
  readonly name: string;
  readonly signature: string;
  readonly notDrawn: (codes: string) => string;
  readonly tags: Readonly<Record<Tag, string>>;
}

const english: FrameWords = {
  page: "Page",
  of: "of",
  revision: "revision",
  identity: "This paper",
  number: "Number",
  date: "Date",
  madeBy: "Made by",
  notStated: "not stated",
  program: "Program",
  digest: "Digest of what went in (SHA-256)",
  changed: "Changed",
  firstIssue: "First issue.",
  source: "Where it comes from",
  figure: "Figure",
  value: "Value",
  name: "Name",
  signature: "Signature",
  notDrawn: (codes) =>
    `A □ in a name stands for a character that the type of this paper does not hold: ${codes}.`,
  tags: {
    published: "published",
    secondary: "second hand: check against the standard",
    memory: "from memory: check against your own copy",
    "common practice": "common practice",
    computed: "computed",
    "design choice": "choice of this program",
    user: "from the site's record",
  },
};

const spanish: FrameWords = {
  page: "Página",
  of: "de",
  revision: "revisión",
  identity: "Este documento",
  number: "Número",
  date: "Fecha",
  madeBy: "Preparado por",
  notStated: "no consta",
  program: "Programa",
  digest: "Resumen de los datos de entrada (SHA-256)",
  changed: "Cambios",
  firstIssue: "Primera edición.",
  source: "De dónde procede",
  figure: "Dato",
  value: "Valor",
  name: "Nombre",
  signature: "Firma",
  notDrawn: (codes) =>
    `Un □ en un nombre representa un carácter que la letra de este documento no tiene: ${codes}.`,
  tags: {
    published: "publicado",
    secondary: "de segunda mano: compruébelo con la norma",
    memory: "de memoria: compruébelo con su ejemplar",
    "common practice": "práctica habitual",
    computed: "calculado",
    "design choice": "criterio de este programa",
    user: "del registro de la instalación",
  },
};

/** The words around a paper in its language. */
export const FRAME_WORDS: Readonly<Record<Language, FrameWords>> = { en: english, es: spanish };
