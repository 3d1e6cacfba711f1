import type { Me } from "./records.ts";

/** Whether somebody runs the whole desk. The desk decides; a page asks so as not to offer what would be refused. */
export function keepsDesk({ role, sites }: Me): boolean {
  return role === "service" && sites === null;
}

/** Whether somebody may put site files in, at least those of their own sites. */
export function changesSites({ role }: Me): boolean {
  return role === "service" || role === "installer";
}

/** Whether somebody may see who is told about faults, at least at their own sites. */
export function seesPeople({ role }: Me): boolean {
  return role === "service" || role === "technician" || role === "installer";
}
