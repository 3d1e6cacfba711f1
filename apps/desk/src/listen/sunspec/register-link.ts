import type { RegisterAnswer, RegisterRead } from "@earthbell/model";
import type { Clock } from "../../clock.ts";

/** Where a gateway, or a device that is its own gateway, answers. */
export interface GatewayPlace {
  readonly host: string;
  readonly port: number;
}

/**
 * A connection over which registers can be read, and nothing else: there is no way to write through it.
 * One request at a time.
 */
export interface RegisterLink {
  /** @throws LinkFault */
  read(unit: number, request: RegisterRead): Promise<RegisterAnswer>;
  /** Gives the connection up; a request under way fails as closed. */
  close(): void;
}

/** @throws LinkFault no-connection */
export type OpenLink = (place: GatewayPlace, timeoutMs: number, clock: Clock) => Promise<RegisterLink>;

/**
 * no-connection  it could not be opened
 * no-answer      a request was not answered in time; the connection stands
 * closed         the other side, or this one, gave it up
 * unsound        what came is no answer; the connection is given up
 */
export type LinkFaultKind = "no-connection" | "no-answer" | "closed" | "unsound";

export class LinkFault extends Error {
  override readonly name = "LinkFault";
  constructor(
    readonly kind: LinkFaultKind,
    text: string,
  ) {
    super(text);
  }
}
