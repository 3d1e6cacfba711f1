import { useEffect, useRef } from "react";
import {
  Autocomplete,
  Input,
  Label,
  Menu,
  MenuItem,
  SearchField,
  Text,
  useFilter,
} from "react-aria-components";
import { go } from "../address/address.ts";
import { type Place, PLACES } from "../address/places.ts";
import { deskPlacesOf } from "../desk/desk-places.ts";
import type { Me } from "../desk/records.ts";
import { useMe } from "../desk/session.ts";
import { useKept } from "../keep/use-desk.ts";
import { setTheme, THEMES } from "../look/theme.ts";

interface Command {
  readonly id: string;
  readonly name: string;
  readonly does: string;
  readonly run: () => void;
}

/** What can be done without anything kept here, for somebody who is signed in at a desk or for anybody (null). */
function fixedCommands(me: Me | null): readonly Command[] {
  const known: readonly Place[] = [...deskPlacesOf(me), ...PLACES];
  const places = known.map(({ path, name, does }) => ({
    id: path,
    name,
    does,
    run: () => {
      go(path);
    },
  }));
  const themes = THEMES.map((theme) => ({
    id: `theme ${theme}`,
    name: theme === "roof" ? "Roof mode" : `Paper: ${theme}`,
    does: theme === "roof" ? "black on white, large, for sun and gloves" : "how the pages look",
    run: () => {
      setTheme(theme);
    },
  }));
  const begin = {
    id: "/visits/new",
    name: "New visit",
    does: "begin by hand",
    run: () => {
      go("/visits/new");
    },
  };
  return [...places, begin, ...themes];
}

/** Every place, kept visit and kept site by a few letters, from the keyboard alone. */
export default function Palette({ close }: { readonly close: () => void }) {
  const dialog = useRef<HTMLDialogElement>(null);
  const me = useMe();
  const { contains } = useFilter({ sensitivity: "base" });
  const visits = useKept((desk) => desk.visits.all(), "palette") ?? [];
  const sites = useKept((desk) => desk.sites.all(), "palette") ?? [];
  useEffect(() => {
    dialog.current?.showModal();
  }, []);
  const commands: readonly Command[] = [
    ...fixedCommands(me),
    ...visits.map(({ id, title }) => ({
      id: `visit ${id}`,
      name: title,
      does: "visit",
      run: () => {
        go(`/visits/${id}`);
      },
    })),
    ...sites.map(({ id, name }) => ({
      id: `site ${id}`,
      name,
      does: "site",
      run: () => {
        go(`/sites/${id}`);
      },
    })),
  ];
  return (
    <dialog ref={dialog} className="palette" aria-label="Go to" onClose={close}>
      <Autocomplete filter={contains}>
        <SearchField autoFocus>
          <Label>Go to a place, a visit or a site</Label>
          <Input />
        </SearchField>
        <Menu
          items={commands}
          aria-label="Found"
          onAction={(key) => {
            dialog.current?.close();
            commands.find(({ id }) => id === key)?.run();
          }}
        >
          {({ id, name, does }) => (
            <MenuItem id={id} textValue={`${name} ${does}`}>
              <Text slot="label">{name}</Text> <span className="small soft">{does}</span>
            </MenuItem>
          )}
        </Menu>
      </Autocomplete>
    </dialog>
  );
}
