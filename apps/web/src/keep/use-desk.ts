import { createContext, useContext, useEffect, useState } from "react";
import { sharedDesk } from "../desk/shared-desk.ts";
import type { Desk } from "./desk.ts";

const DeskInUse = createContext<Desk>(sharedDesk);

export function useDesk(): Desk {
  return useContext(DeskInUse);
}

/** What a desk answers, read again whenever its records change; undefined until it has answered. */
export function useKept<Value>(read: (desk: Desk) => Promise<Value>, key: string): Value | undefined {
  const desk = useDesk();
  const [value, setValue] = useState<{ readonly key: string; readonly value: Value }>();
  useEffect(() => {
    let gone = false;
    const again = (): void => {
      void read(desk).then((answered) => {
        if (!gone) setValue({ key, value: answered });
      });
    };
    again();
    const stop = desk.watch(again);
    return () => {
      gone = true;
      stop();
    };
    // `read` is written anew in every rendering; the key says what it reads.
  }, [desk, key]);
  return value?.key === key ? value.value : undefined;
}
