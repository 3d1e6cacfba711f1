import type { Me } from "./records.ts";

type Doer = "service" | "technician" | "installer";

/** Who does what about a matter: the roles that the desk lets do it at a site of theirs. */
const DOERS = {
  answer: ["service", "technician", "installer"],
  "work-case": ["service", "technician", "installer"],
  "close-case": ["service", "technician"],
  drill: ["service", "technician", "installer"],
  "override-rules": ["service"],
} as const satisfies Record<string, readonly Doer[]>;
export type Deed = keyof typeof DOERS;

const NAMES: Readonly<Record<Doer, string>> = {
  service: "a service engineer",
  technician: "a technician",
  installer: "the installer",
};

/** Whether somebody of a role does such a thing. The desk decides; a page asks so as to order nobody to do what would be refused. */
export function does(role: Me["role"], deed: Deed): boolean {
  return DOERS[deed].some((one) => one === role);
}

/** "a service engineer, a technician or the installer" */
export function doersOf(deed: Deed): string {
  const names = DOERS[deed].map((one) => NAMES[one]);
  return names.join(", ").replace(/, ([^,]*)$/u, " or $1");
}
