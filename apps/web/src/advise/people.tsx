import { Choice } from "../page/choice.tsx";
import { Field } from "../page/field.tsx";
import { BLANK_PERSON, type PersonRow } from "./form.ts";
import type { FormProps } from "./form-props.ts";

const ROLES = ["owner", "service", "installer", "occupant", "other"].map((role) => [role, role] as const);

/** Who can be told, one person a block. */
export function People({ form: { people }, set }: FormProps) {
  const change = (index: number, part: Partial<PersonRow>): void => {
    set({ people: people.map((person, i) => (i === index ? { ...person, ...part } : person)) });
  };
  return (
    <div className="flow people">
      {people.map((person, index) => (
        <Person
          key={index}
          person={person}
          change={(part) => {
            change(index, part);
          }}
          remove={() => {
            set({ people: people.filter((_, i) => i !== index) });
          }}
        />
      ))}
      <button
        type="button"
        onClick={() => {
          set({ people: [...people, BLANK_PERSON] });
        }}
      >
        {people.length === 0 ? "Name somebody" : "Another person"}
      </button>
    </div>
  );
}

interface PersonProps {
  readonly person: PersonRow;
  readonly change: (part: Partial<PersonRow>) => void;
  readonly remove: () => void;
}

function Person({ person, change, remove }: PersonProps) {
  const field = (name: "id" | "email" | "reads" | "checks", words: string) => (
    <Field
      words={words}
      value={person[name]}
      typed={(value) => {
        change({ [name]: value });
      }}
    />
  );
  return (
    <div className="fields">
      {field("id", "Short name")}
      <Choice
        words="Role"
        value={person.role}
        choices={ROLES}
        chosen={(role) => {
          change({ role });
        }}
      />
      {field("email", "Mail address")}
      {field("reads", "Reads messages")}
      {field("checks", "Looks a day")}
      <button type="button" className="word" onClick={remove}>
        take away
      </button>
    </div>
  );
}
