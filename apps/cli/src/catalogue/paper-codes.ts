import type { Entry } from "./entry.ts";

const group = "papers";

/** What can keep a paper from being made, or from being believed. */
export const paperCodes: readonly Entry[] = [
  {
    code: "PAPER_COMPILER_MISSING",
    group,
    title: "PDF cannot be made on this computer",
    meaning: "Papers become PDF by an optional package and its fonts, and one of them is not installed.",
    next: "Install the program with its optional packages, or ask for --format html, which needs neither.",
  },
  {
    code: "PAPER_RECORD_UNREADABLE",
    group,
    title: "The record of an earlier issue cannot be used",
    meaning:
      "The folder holds a record of this paper that is no record, or whose inputs do not have the digest it states. Going on could give two papers the same number and revision.",
    next: "Restore the record from a copy, or move it and its papers to another folder.",
  },
  {
    code: "PAPER_KEY_UNREADABLE",
    group,
    title: "The file is no Ed25519 key",
    meaning: "Papers are signed with an Ed25519 private key in PEM and checked with its public key in PEM.",
    next: "Make one with `openssl genpkey -algorithm ed25519`, or name the right file.",
  },
  {
    code: "PAPER_SIGNATURE_MISSING",
    group,
    title: "There is no signature to check",
    meaning: "A signed file has its signature beside it, in a file of the same name with .sig after it.",
    next: "Ask whoever gave you the file for its .sig file.",
  },
  {
    code: "PAPER_FILE_ALTERED",
    group,
    title: "The file is not as it was signed",
    meaning: "The signature does not fit the bytes of the file: one of them was changed.",
    next: "Do not rely on it. Ask for the paper again from whoever made it.",
  },
  {
    code: "PAPER_KEY_UNKNOWN",
    group,
    title: "The file is signed by a key that is not known here",
    meaning:
      "The signature fits the file, but anybody can make a key. Only a key that you have from its owner says who signed.",
    next: "Get the signer's public key from the signer and name it with --key.",
  },
];
