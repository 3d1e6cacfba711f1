import type { Me } from "./records.ts";

/** Whether somebody runs the whole desk. The desk decides; a page asks so as not to offer what would be refused. */
export function keepsDesk({ role, sites }: Me): boolean {
  return role === "service" && sites === null;
}
