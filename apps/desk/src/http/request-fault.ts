import type { RequestCode } from "@earthbell/model";

/** One field of a request that does not fit. */
export interface FieldOfRequest {
  readonly field: string;
  readonly message: string;
}

const STATUS: Readonly<Record<RequestCode, number>> = {
  REQUEST_BODY_INVALID: 400,
  REQUEST_TOKEN_MISSING: 401,
  REQUEST_TOKEN_UNKNOWN: 401,
  REQUEST_NOT_ALLOWED: 403,
  REQUEST_FOREIGN: 403,
  ACCOUNT_SIGN_IN_FAILED: 401,
  ACCOUNT_WAIT: 429,
  ACCOUNT_LINK_SPENT: 410,
  ACCOUNT_LOOK_ENDED: 410,
  ACCOUNT_NAME_TAKEN: 409,
  ACCOUNT_PASSKEY_FAILED: 401,
  VISIT_ELSEWHERE: 409,
  VISIT_ENTRY_DIFFERS: 409,
  VISIT_FULL: 409,
  PHOTO_DIFFERS: 409,
  PHOTO_KIND_UNKNOWN: 415,
  SETTINGS_CHANGED: 409,
  SETTINGS_NOT_EDITABLE: 422,
  SETTINGS_CHANNEL_UNUSABLE: 422,
  SITE_FILE_CHANGED: 409,
  RULES_OVERRIDE_CHANGED: 409,
  REQUEST_UNKNOWN: 404,
  REQUEST_TOO_LARGE: 413,
  REQUEST_TOO_MANY: 429,
  REQUEST_NOT_STORED: 503,
};

/** A request that is not carried out; becomes the answer. */
export class RequestFault extends Error {
  override readonly name = "RequestFault";
  readonly statusCode: number;

  constructor(
    readonly code: RequestCode,
    text: string,
    readonly fields: readonly FieldOfRequest[] = [],
  ) {
    super(text);
    this.statusCode = STATUS[code];
  }
}

/** The shape of every answer that is not what was asked for. */
export function faultBody(fault: RequestFault): {
  readonly error: {
    readonly code: string;
    readonly message: string;
    readonly fields?: readonly FieldOfRequest[];
  };
} {
  const { code, message, fields } = fault;
  return { error: { code, message, ...(fields.length === 0 ? {} : { fields }) } };
}

/** What the server's own refusals (too large, too many, not JSON) are called here; null for what is nobody's request. */
export function requestFaultOf(error: {
  readonly statusCode?: number;
  readonly message: string;
}): RequestFault | null {
  if (error instanceof RequestFault) return error;
  switch (error.statusCode) {
    case 413:
      return new RequestFault("REQUEST_TOO_LARGE", "The body is larger than this address takes.");
    case 429:
      return new RequestFault("REQUEST_TOO_MANY", "Too many requests; wait as long as Retry-After says.");
    case 404:
      return new RequestFault("REQUEST_UNKNOWN", "There is nothing at this address.");
    default:
      return error.statusCode !== undefined && error.statusCode >= 400 && error.statusCode < 500
        ? new RequestFault("REQUEST_BODY_INVALID", error.message)
        : null;
  }
}
