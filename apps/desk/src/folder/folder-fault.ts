import type { FolderCode } from "@earthbell/model";

/** What keeps a desk from starting, or a copy from being made; the code has a page of its own (`earthbell explain CODE`). */
export class FolderFault extends Error {
  override readonly name = "FolderFault";

  constructor(
    readonly code: FolderCode,
    text: string,
  ) {
    super(text);
  }
}
