import type { Person, Site } from "@earthbell/engine";

/** A change of one person of a site. A field left out stays; null takes it out of the file, which then does not say. */
export interface PersonChange {
  /** Id among the people of the site. */
  readonly person: string;
  readonly reads?: Person["reads"] | null;
  readonly checksPerDay?: number | null;
  /** Every absence that is to stand in the file; null or empty: none. */
  readonly away?: NonNullable<Person["away"]> | null;
  /** Last day of the post, YYYY-MM-DD. */
  readonly until?: string | null;
  /** An address in place of one that the file has. */
  readonly address?: { readonly way: keyof NonNullable<Person["address"]>; readonly to: string };
}

/** The site with a person changed; people of another id stay as they are. */
export function withPerson(site: Site, change: PersonChange): Site {
  return {
    ...site,
    people: site.people.map((person) =>
      person.id === change.person ? changedPerson(person, change) : person,
    ),
  };
}

function changedPerson(person: Person, { address, ...change }: PersonChange): Person {
  const fields = { ...person, ...change, person: undefined };
  const { away } = fields;
  const kept = Object.entries({ ...fields, away: away?.length === 0 ? null : away }).filter(
    ([, value]) => value !== null && value !== undefined,
  );
  const changed = Object.fromEntries(kept) as unknown as Person;
  return address === undefined
    ? changed
    : { ...changed, address: { ...person.address, [address.way]: address.to } };
}
