/** How a site stands by its file, with the newest drill that was passed at the desk, as far as its need of a person goes. */
export interface ProvedSite {
  /** null until it has been judged. */
  readonly standing: {
    /** Day of the judgement, YYYY-MM-DD. */
    readonly onDate: string;
    readonly duty: "required" | "not-required" | "undecided";
    readonly path: "meets" | "falls-short" | "unproven" | "cannot-tell" | null;
    /** Day of the newest proof in the file; null for none. */
    readonly provedOn: string | null;
  } | null;
  readonly drillPassedAt: number | null;
}

/** Day of the newest proof: a drill passed at the desk, or what the file tells of; null for none. */
export function newestProofOn({ standing, drillPassedAt }: ProvedSite): string | null {
  const drilled = drillPassedAt === null ? null : new Date(drillPassedAt).toISOString().slice(0, 10);
  const filed = standing?.provedOn ?? null;
  return drilled !== null && (filed === null || drilled > filed) ? drilled : filed;
}

/** An alarm is required, and no path meets what is asked of it. A site that is not judged yet is none. */
export function isUnserved({ standing }: Pick<ProvedSite, "standing">): boolean {
  return standing?.duty === "required" && standing.path !== "meets";
}

/** An alarm is required, and no path was proved within a year: the program's own rule, as in the assessment. */
export function isUnproved(site: ProvedSite): boolean {
  const { standing } = site;
  return standing?.duty === "required" && (newestProofOn(site) ?? "") < yearBefore(standing.onDate);
}

function yearBefore(day: string): string {
  return `${String(Number(day.slice(0, 4)) - 1)}${day.slice(4)}`;
}
