import {
  type AuthenticationResponseJSON,
  type AuthenticatorTransportFuture,
  generateAuthenticationOptions,
  generateRegistrationOptions,
  type PublicKeyCredentialCreationOptionsJSON,
  type PublicKeyCredentialRequestOptionsJSON,
  type RegistrationResponseJSON,
  verifyAuthenticationResponse,
  verifyRegistrationResponse,
} from "@simplewebauthn/server";
import type { AccountTable, DeskStore } from "../store/index.ts";

/** The address under which browsers reach the desk: passkeys belong to it. */
export interface PasskeySite {
  readonly name: string;
  /** Origin, such as https://desk.example.org. */
  readonly origin: string;
}

/** A question holds for this long. */
const QUESTION_MS = 5 * 60_000;
const MOST_QUESTIONS = 10_000;

/** Passkeys (WebAuthn): what is asked of a browser, and whether its answer fits. */
export class Passkeys {
  /** Questions that wait for their answer; each is taken once. */
  readonly #questions = new Map<string, number>();

  constructor(
    private readonly store: DeskStore,
    private readonly site: PasskeySite,
  ) {}

  async askToAdd(account: AccountTable, now: number): Promise<PublicKeyCredentialCreationOptionsJSON> {
    const own = await this.store.db
      .selectFrom("passkey")
      .select("id")
      .where("account_id", "=", account.id)
      .execute();
    const options = await generateRegistrationOptions({
      rpName: this.site.name,
      rpID: this.#rpId,
      userName: account.name,
      userID: new TextEncoder().encode(account.id),
      excludeCredentials: own.map(({ id }) => ({ id })),
      authenticatorSelection: { residentKey: "required", userVerification: "required" },
      attestationType: "none",
    });
    this.#note(options.challenge, now);
    return options;
  }

  /** @returns whether the passkey is now one of the account's */
  async add(
    account: AccountTable,
    response: RegistrationResponseJSON,
    label: string,
    now: number,
  ): Promise<boolean> {
    const verified = await verifyRegistrationResponse({ response, ...this.#expected(now) }).catch(() => null);
    if (!verified?.verified) return false;
    const { credential } = verified.registrationInfo;
    const row = {
      id: credential.id,
      account_id: account.id,
      public_key: Buffer.from(credential.publicKey).toString("base64url"),
      counter: credential.counter,
      transports_json: JSON.stringify(credential.transports ?? []),
      label,
      created_at: now,
    };
    await this.store.amend((tx) => tx.insertInto("passkey").values(row).execute());
    return true;
  }

  async askToSignIn(now: number): Promise<PublicKeyCredentialRequestOptionsJSON> {
    const options = await generateAuthenticationOptions({ rpID: this.#rpId, userVerification: "required" });
    this.#note(options.challenge, now);
    return options;
  }

  /** The account that the answer proves; null where it proves none. */
  async signIn(response: AuthenticationResponseJSON, now: number): Promise<AccountTable | null> {
    const row = await this.store.db
      .selectFrom("passkey")
      .innerJoin("account", "account.id", "passkey.account_id")
      .selectAll("account")
      .select(["passkey.public_key", "passkey.counter", "passkey.transports_json"])
      .where("passkey.id", "=", response.id)
      .where("account.disabled_at", "is", null)
      .executeTakeFirst();
    if (row === undefined) return null;
    const { public_key, counter, transports_json, ...account } = row;
    const credential = {
      id: response.id,
      publicKey: new Uint8Array(Buffer.from(public_key, "base64url")),
      counter,
      transports: JSON.parse(transports_json) as AuthenticatorTransportFuture[],
    };
    const verified = await verifyAuthenticationResponse({
      response,
      credential,
      ...this.#expected(now),
    }).catch(() => null);
    if (!verified?.verified) return null;
    const { newCounter } = verified.authenticationInfo;
    await this.store.amend((tx) =>
      tx.updateTable("passkey").set({ counter: newCounter }).where("id", "=", response.id).execute(),
    );
    return account;
  }

  get #rpId(): string {
    return new URL(this.site.origin).hostname;
  }

  #expected(now: number) {
    return {
      expectedChallenge: (challenge: string) => this.#take(challenge, now),
      expectedOrigin: this.site.origin,
      expectedRPID: this.#rpId,
      requireUserVerification: true,
    };
  }

  #note(challenge: string, now: number): void {
    if (this.#questions.size >= MOST_QUESTIONS) this.#questions.delete(this.#questions.keys().next().value!);
    this.#questions.set(challenge, now + QUESTION_MS);
  }

  #take(challenge: string, now: number): boolean {
    const until = this.#questions.get(challenge);
    this.#questions.delete(challenge);
    return until !== undefined && now <= until;
  }
}
