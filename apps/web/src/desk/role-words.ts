import type { Role } from "./records.ts";

interface RoleWords {
  readonly name: string;
  /** What somebody of this role does here. */
  readonly may: string;
}

export const ROLE_WORDS: Readonly<Record<Role | "site", RoleWords>> = {
  service: { name: "Service engineer", may: "runs the desk and everything in it" },
  technician: { name: "Technician", may: "answers alarms, works on cases and closes them, holds drills" },
  installer: { name: "Installer", may: "keeps the files of own sites, answers alarms, holds drills" },
  owner: { name: "Owner", may: "sees own sites and changes nothing" },
  site: { name: "A site's token", may: "hands in readings" },
};
