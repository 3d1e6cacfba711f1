import type { Digest, IssueFolder, JobResult, PaperJob } from "@earthbell/papers";
import type { DeskStore } from "../store/index.ts";
import { type Drafts, drafts } from "./drafts.ts";
import { feedKey } from "./feed-key.ts";
import { type PaperIndex, paperIndex } from "./paper-index.ts";
import { SiteStandingsReader } from "./site-standings.ts";

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
  readonly make: (of: string, job: Omit<PaperJob, "folder" | "signKey" | "version">) => Promise<JobResult>;
  /** An issued file; null: it is not there. */
  readonly read: (name: string) => Promise<Uint8Array | null>;
  /** Secret by which the addresses of calendar feeds are signed. */
  readonly feedKey: () => Promise<Buffer>;
}

export interface OfficeStart {
  readonly tools: PaperTools;
  /** Folder of the papers. */
  readonly folder: string;
  readonly feedKeyFile: string;
  readonly store: DeskStore;
  readonly version: string;
}

export function createPaperOffice({ tools, folder, feedKeyFile, store, version }: OfficeStart): PaperOffice {
  const { digest, digestOfBytes } = tools;
  let opening: Promise<IssueFolder> | undefined;
  const open = (): Promise<IssueFolder> => (opening ??= tools.openFolder(folder));
  const index = paperIndex(open, digest);
  const underWay = new Map<string, Promise<unknown>>();
  return {
    index,
    standings: new SiteStandingsReader(store, digest),
    drafts: drafts(),
    digest,
    digestOfBytes,
    read: async (name) => (await open()).read(name),
    feedKey: () => feedKey(feedKeyFile),
    make: async (of, job) => {
      const key = JSON.stringify([job.kind, of, job.language]);
      const before = underWay.get(key) ?? Promise.resolve();
      const making = before.then(() => tools.run({ ...job, folder, version, signKey: null }));
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
