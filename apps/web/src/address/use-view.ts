import { currentAddress, go, useAddress } from "./address.ts";

type Settings<Name extends string> = Readonly<Record<Name, string>>;
type Show<Name extends string> = (name: Name) => (value: string) => void;

/**
 * What a page is told to show, kept in its address, so that it can be sent to somebody, kept and come back to. Only what differs
 * from the plain page stands there.
 *
 * @param plain  what the page shows by itself, setting by setting
 * @returns what is asked for now, as it stands in the address, and how one setting is changed
 */
export function useView<Name extends string>(
  plain: Settings<Name>,
): readonly [view: Settings<Name>, show: Show<Name>] {
  const { query } = useAddress();
  const names = Object.keys(plain) as Name[];
  const view = Object.fromEntries(names.map((name) => [name, query.get(name) ?? plain[name]]));
  const show: Show<Name> = (name) => (value) => {
    const now = currentAddress().query;
    if (value === plain[name]) now.delete(name);
    else now.set(name, value);
    const path = window.location.pathname;
    go(now.size === 0 ? path : `${path}?${now.toString()}`, { replace: true });
  };
  return [view as Settings<Name>, show];
}

/** The choice of this name, or the first: an address can be typed. */
export function oneOf<Name extends string>(
  choices: readonly (readonly [name: Name, ...rest: readonly unknown[]])[],
  name: string,
): Name {
  return (choices.find(([one]) => one === name) ?? choices[0]!)[0];
}
