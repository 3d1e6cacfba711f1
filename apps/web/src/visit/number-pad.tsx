const KEYS = ["7", "8", "9", "4", "5", "6", "1", "2", "3", ".", "0", "⌫"] as const;

interface NumberPadProps {
  readonly value: string;
  readonly typed: (value: string) => void;
}

/** Figures for a gloved thumb: roof mode shows it under the field, already open. */
export function NumberPad({ value, typed }: NumberPadProps) {
  const press = (key: (typeof KEYS)[number]): void => {
    if (key === "⌫") typed(value.slice(0, -1));
    else if (key !== "." || !value.includes(".")) typed(value + key);
  };
  return (
    <div className="pad" role="group" aria-label="Number pad">
      {KEYS.map((key) => (
        <button
          key={key}
          type="button"
          aria-label={key === "⌫" ? "Take back the last figure" : key === "." ? "Decimal point" : key}
          onClick={() => {
            press(key);
          }}
        >
          {key}
        </button>
      ))}
    </div>
  );
}
