import { useId } from "react";

interface CredentialsProps {
  readonly name: string;
  readonly password: string;
  readonly nameTyped: (name: string) => void;
  readonly passwordTyped: (password: string) => void;
  /** A password is being chosen, not given. */
  readonly fresh: boolean;
}

/** Name and password, marked so that the keeper of passwords in a browser knows them. */
export function Credentials({ name, password, nameTyped, passwordTyped, fresh }: CredentialsProps) {
  const id = useId();
  return (
    <>
      <div className="field">
        <label htmlFor={`${id}-name`}>Name</label>
        <input
          id={`${id}-name`}
          name="username"
          autoComplete="username"
          value={name}
          onChange={(event) => {
            nameTyped(event.currentTarget.value);
          }}
          aria-describedby={fresh ? `${id}-answers` : undefined}
        />
        {fresh ? (
          <span id={`${id}-answers`} className="hint">
            stands beside every step you take
          </span>
        ) : null}
      </div>
      <div className="field">
        <label htmlFor={`${id}-password`}>Password</label>
        <input
          id={`${id}-password`}
          name="password"
          type="password"
          autoComplete={fresh ? "new-password" : "current-password"}
          value={password}
          onChange={(event) => {
            passwordTyped(event.currentTarget.value);
          }}
          aria-describedby={fresh ? `${id}-long` : undefined}
        />
        {fresh ? (
          <span id={`${id}-long`} className="hint">
            12 characters or more; several words do well
          </span>
        ) : null}
      </div>
    </>
  );
}
