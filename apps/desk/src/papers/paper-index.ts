import {
  type Digest,
  hasResults,
  type IssueFolder,
  type IssueRecord,
  readIssue,
  siteDigestOf,
} from "@earthbell/papers";

/** What is remembered of the record of a paper, so that a list of many needs no reading. */
export interface KnownPaper {
  readonly kind: IssueRecord["issue"]["kind"];
  readonly number: string;
  /** Site, visit, setting sheet or fleet that it is about. */
  readonly of: string;
  readonly language: IssueRecord["issue"]["language"];
  /** Digest of the site file and the rule values that it was made from; of all inputs where it is not about a site. */
  readonly siteDigest: string;
  readonly hasResults: boolean;
  readonly revisions: IssueRecord["revisions"];
}

/** The papers of a folder, read once and then kept up to date. */
export interface PaperIndex {
  /** Papers by their number. */
  readonly all: () => Promise<ReadonlyMap<string, KnownPaper>>;
  /** Reads the record of a paper anew: another program may have made a revision in the same folder. */
  readonly refresh: (number: string) => Promise<KnownPaper | null>;
  readonly ofFile: (name: string) => Promise<KnownPaper | null>;
  readonly ofDigest: (
    sha256: string,
  ) => Promise<{ readonly paper: KnownPaper; readonly name: string } | null>;
}

export function paperIndex(open: () => Promise<IssueFolder>, digest: Digest): PaperIndex {
  let loading: Promise<Map<string, KnownPaper>> | undefined;
  const all = (): Promise<Map<string, KnownPaper>> => (loading ??= load(open, digest));
  const find = async (fits: (file: { readonly name: string; readonly sha256: string }) => boolean) => {
    for (const paper of (await all()).values())
      for (const { files } of paper.revisions) {
        const file = files.find(fits);
        if (file !== undefined) return { paper, name: file.name };
      }
    return null;
  };
  return {
    all,
    refresh: async (number) => {
      const record = await (await open()).latest(number);
      const known = await all();
      if (record === null || record === "unreadable") known.delete(number);
      else known.set(number, knownPaper(record, digest));
      return known.get(number) ?? null;
    },
    ofFile: async (name) => (await find((file) => file.name === name))?.paper ?? null,
    ofDigest: (sha256) => find((file) => file.sha256 === sha256),
  };
}

/** Records that cannot be read stay out: whoever makes such a paper is told. */
async function load(open: () => Promise<IssueFolder>, digest: Digest): Promise<Map<string, KnownPaper>> {
  const folder = await open();
  const known = new Map<string, KnownPaper>();
  for (const name of await folder.names()) {
    const bytes = await folder.read(name);
    const record = bytes === null ? null : readIssue(Buffer.from(bytes).toString("utf8"), digest);
    if (record !== null) known.set(record.issue.number, knownPaper(record, digest));
  }
  return known;
}

function knownPaper({ issue, revisions }: IssueRecord, digest: Digest): KnownPaper {
  const { kind, number, language, input } = issue;
  return {
    kind,
    number,
    of: number.slice(number.indexOf(" ") + 1),
    language,
    siteDigest: siteDigestOf(issue, digest),
    hasResults: kind === "commissioning-record" && hasResults(input),
    revisions,
  };
}
