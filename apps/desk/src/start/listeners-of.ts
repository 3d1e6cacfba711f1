import { resolve } from "node:path";
import type { Site } from "@earthbell/engine";
import type { DeskSettings } from "@earthbell/model";
import type { Clock } from "../clock.ts";
import type { Accept, Listener } from "../listen/accept.ts";
import { dropFolder } from "../listen/drop/drop-folder.ts";
import { startDropListener } from "../listen/drop/drop-listener.ts";
import { mqttListener } from "../listen/mqtt/mqtt-listener.ts";
import { startSunspecListener } from "../listen/sunspec/sunspec-listener.ts";
import type { Log } from "../log.ts";
import type { DeskStore } from "../store/index.ts";
import type { Watch } from "../watch/index.ts";
import type { SettledBroker } from "./brokers-of.ts";
import { gatewaysOf } from "./gateways-of.ts";

/** What listeners are made with. */
export interface ListenerParts {
  readonly settings: DeskSettings;
  readonly folder: string;
  readonly brokers: readonly SettledBroker[];
  readonly store: DeskStore;
  readonly watch: Watch;
  readonly accept: Accept;
  readonly clock: Clock;
  readonly log: Log;
  readonly random: () => number;
}

/** Everything that the settings have the desk listen to. */
export async function listenersOf(around: ListenerParts): Promise<readonly Listener[]> {
  const { settings, watch, accept, clock, log, random } = around;
  const gateways = gatewaysOf(settings, await sitesIn(around.store));
  const parts = { accept, clock, log, random };
  const rehearse: Watch["rehearse"] = (readings, by) => watch.rehearse(readings, by);
  return [
    ...(gateways.length === 0 ? [] : [startSunspecListener({ gateways }, parts)]),
    ...around.brokers
      .filter(({ listen }) => listen)
      .map(({ id, clientId, broker, session }) =>
        mqttListener({ name: `mqtt-${id}`, clientId, broker, ...session }, { ...parts, rehearse }),
      ),
    ...dropListeners(around),
  ];
}

const SETTLED_MIN = 10 / 60;
const LOOK_EVERY_MIN = 5 / 60;

function dropListeners({ settings: { drops = [] }, folder, ...parts }: ListenerParts): readonly Listener[] {
  const ms = (minutes: number): number => Math.round(minutes * 60_000);
  return drops.map(({ id, folder: into, mapping, site, device, array, settledAfter, lookEvery }) =>
    startDropListener(
      {
        id,
        mapping,
        place: { site, device, ...(array === undefined ? {} : { array }) },
        settledMs: ms(settledAfter ?? SETTLED_MIN),
        lookEveryMs: ms(lookEvery ?? LOOK_EVERY_MIN),
      },
      { ...parts, folder: dropFolder(resolve(folder, into)) },
    ),
  );
}

async function sitesIn({ db }: DeskStore): Promise<readonly Site[]> {
  const rows = await db.selectFrom("site").select("site_json").where("removed_at", "is", null).execute();
  return rows.map(({ site_json }) => JSON.parse(site_json) as Site);
}
