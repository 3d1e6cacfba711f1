import type { HeldSheet, SettingSheet } from "@earthbell/model";
import { type Digest, type IssueFolder, type JobResult, type PaperJob, paperNumber } from "@earthbell/papers";
import type { DeskStore } from "../store/index.ts";
import { type Checked, checkSignature } from "./check-signature.ts";
import { type Drafts, drafts } from "./drafts.ts";
import { feedKey } from "./feed-key.ts";
import { type PaperIndex, paperIndex } from "./paper-index.ts";
import { type SigningKeys, signingKeys } from "./signing-keys.ts";
import { SiteStandingsReader } from "./site-standings.ts";

/** What the name of a signature has beyond that of its file. */
export const SIGNATURE = ".sig";

/** What makes papers, brought by the program that starts the desk: it has the compiler and its threads. */
export interface PaperTools {
  readonly run: (job: PaperJob) => Promise<JobResult>;
  readonly openFolder: (path: string) => Promise<IssueFolder>;
  readonly digest: Digest;
  readonly digestOfBytes: (bytes: Uint8Array) => string;
  readonly close: () => Promise<void>;
}

/** Where the desk's papers are made and kept. */
export interface PaperOffice {
  readonly index: PaperIndex;
  readonly standings: SiteStandingsReader;
  readonly drafts: Drafts;
  readonly digest: Digest;
  readonly digestOfBytes: (bytes: Uint8Array) => string;
  /** Makes one paper; two of one number wait for each other. */
  readonly make: (
    of: string,
    job: Omit<PaperJob, "folder" | "photoFolder" | "signKey" | "version">,
  ) => Promise<JobResult>;
  /** The record of the newest issue of a number. */
  readonly latest: IssueFolder["latest"];
  /** The newest revision of a setting sheet; null: there is none that can be read. */
  readonly sheet: (id: string) => Promise<HeldSheet | null>;
  /** An issued file; null: it is not there. */
  readonly read: (name: string) => Promise<Uint8Array | null>;
  /** Whether a file in the folder is still as it was signed, by a key of this desk. */
  readonly check: (name: string) => Promise<Checked>;
  /** Secret by which the addresses of calendar feeds are signed. */
  readonly feedKey: () => Promise<Buffer>;
  /** Every paper that is issued is signed with the current one. */
  readonly keys: SigningKeys;
}

export interface OfficeStart {
  readonly tools: PaperTools;
  /** Folder of the papers. */
  readonly folder: string;
  /** Folder of the photos that reports show; left out: they show none, and say so. */
  readonly photoFolder?: string;
  readonly feedKeyFile: string;
  /** Folder of the keys by which papers are signed. */
  readonly signingFolder: string;
  readonly store: DeskStore;
  readonly version: string;
}

export function createPaperOffice(start: OfficeStart): PaperOffice {
  const { tools, folder, photoFolder, feedKeyFile, signingFolder, store, version } = start;
  const photos = photoFolder === undefined ? {} : { photoFolder };
  const { digest, digestOfBytes } = tools;
  let opening: Promise<IssueFolder> | undefined;
  const open = (): Promise<IssueFolder> => (opening ??= tools.openFolder(folder));
  const index = paperIndex(open, digest);
  const keys = signingKeys(signingFolder);
  const underWay = new Map<string, Promise<unknown>>();
  return {
    index,
    standings: new SiteStandingsReader(store, digest),
    drafts: drafts(),
    digest,
    digestOfBytes,
    latest: async (number) => (await open()).latest(number),
    sheet: async (id) => heldSheetOf(await open(), id),
    read: async (name) => (await open()).read(name),
    check: async (name) => {
      const [bytes, signature] = await Promise.all(
        [name, `${name}${SIGNATURE}`].map(async (one) => (await open()).read(one)),
      );
      if (bytes === null || bytes === undefined) return { verdict: "missing", key: null };
      const text =
        signature === null || signature === undefined ? null : Buffer.from(signature).toString("utf8");
      return checkSignature(bytes, text, await keys.known());
    },
    feedKey: () => feedKey(feedKeyFile),
    keys,
    make: async (of, job) => {
      const key = JSON.stringify([job.kind, of, job.language]);
      const before = underWay.get(key) ?? Promise.resolve();
      const making = before.then(async () => {
        const signKey = job.what === "issue" ? await keys.current() : null;
        return tools.run({ ...job, ...photos, folder, version, signKey });
      });
      const ended = making.then(
        () => undefined,
        () => undefined,
      );
      underWay.set(key, ended);
      const result = await making;
      if (underWay.get(key) === ended) underWay.delete(key);
      if (result.ok && result.what === "issue") await index.refresh(result.made.issue.number);
      return result;
    },
  };
}

async function heldSheetOf({ latest }: IssueFolder, id: string): Promise<HeldSheet | null> {
  const record = await latest(paperNumber({ kind: "setting-sheet", of: id, language: "en" }));
  if (record === null || record === "unreadable") return null;
  const { input, revision, digest } = record.issue;
  return { sheet: input as unknown as SettingSheet, revision, digest };
}
