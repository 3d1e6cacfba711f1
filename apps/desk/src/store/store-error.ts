/** The store could not do what was asked; the code has a page of its own (`earthbell explain CODE`). */
export class StoreError extends Error {
  override readonly name = "StoreError";
  readonly code:
    | "STORE_OPEN_FAILED"
    | "STORE_VERSION_NEWER"
    | "STORE_BACKUP_EXISTS"
    | "STORE_BACKUP_UNSOUND"
    | "STORE_BACKUP_ELSEWHERE";

  constructor(code: StoreError["code"], text: string, cause?: unknown) {
    super(`${code}: ${text}`, cause === undefined ? {} : { cause });
    this.code = code;
  }
}
