import { tellDesk } from "./ask-desk.ts";

/** Puts a secret in at the desk. @returns how the settings name it; it is never told again */
export async function keepSecret(
  of: "email" | "webhook" | "sms" | "broker",
  secret: string,
): Promise<{ readonly file: string }> {
  return await tellDesk<{ readonly file: string }>("/api/settings/secrets", { of, secret });
}
