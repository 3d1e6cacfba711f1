/** `1 site`, `3 sites`: of words whose plural is regular. */
export function counted(count: number, what: string): string {
  return `${count} ${what}${count === 1 ? "" : "s"}`;
}
