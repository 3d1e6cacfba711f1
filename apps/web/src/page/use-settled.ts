import { useEffect, useState } from "react";

/** What is being typed, once the fingers have rested for a moment. */
export function useSettled<Value>(value: Value, restMs = 200): Value {
  const [settled, setSettled] = useState(value);
  useEffect(() => {
    const timer = setTimeout(() => {
      setSettled(value);
    }, restMs);
    return () => {
      clearTimeout(timer);
    };
  }, [value, restMs]);
  return settled;
}
