import {
  browserSupportsWebAuthn,
  type PublicKeyCredentialCreationOptionsJSON,
  type PublicKeyCredentialRequestOptionsJSON,
  startAuthentication,
  startRegistration,
} from "@simplewebauthn/browser";
import { DeskFault, tellDesk } from "./ask-desk.ts";
import type { Me } from "./records.ts";

/** Passkeys belong to a name: a browser gives none for an address in figures. */
const IN_FIGURES = /^(?:[\d.]+|\[.*\])$/u;

export const passkeysPossible = (): boolean =>
  browserSupportsWebAuthn() && window.isSecureContext && !IN_FIGURES.test(window.location.hostname);

/** A browser's own refusal of a passkey, in words. */
function refused(error: unknown): never {
  if (error instanceof DeskFault) throw error;
  throw new DeskFault(
    "PASSKEY_NOT_GIVEN",
    "The browser gave no passkey: it was declined, took too long, or this device has none for this desk. Try again, or use the password.",
  );
}

/** Adds a passkey of this device to the account that is signed in. @throws DeskFault */
export async function addPasskey(label: string): Promise<void> {
  const optionsJSON = await tellDesk<PublicKeyCredentialCreationOptionsJSON>("/api/passkeys/question", {});
  const response = await startRegistration({ optionsJSON }).catch(refused);
  await tellDesk("/api/passkeys", { label, response });
}

/** Signs in with a passkey of this device. @throws DeskFault */
export async function signInByPasskey(): Promise<Me> {
  const question = "/api/sign-in/passkey/question";
  const optionsJSON = await tellDesk<PublicKeyCredentialRequestOptionsJSON>(question, {});
  const response = await startAuthentication({ optionsJSON }).catch(refused);
  return await tellDesk<Me>("/api/sign-in/passkey", response);
}
