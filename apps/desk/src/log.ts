/** Where a part says what it does; secrets never go in. */
export interface Log {
  info(about: Readonly<Record<string, unknown>>, text: string): void;
  warn(about: Readonly<Record<string, unknown>>, text: string): void;
  error(about: Readonly<Record<string, unknown>>, text: string): void;
}
