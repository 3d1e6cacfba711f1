import type { Desk } from "../../apps/web/src/keep/desk.ts";
import { httpDesk, type RemoteDesk } from "../../apps/web/src/keep/http-desk.ts";
import { begun, same, voltsOf, withReading } from "./desk-contract.ts";

/** What a keeper that hands over has to do besides. Each throws what is wrong. */
export interface HttpClause {
  readonly sentence: string;
  readonly hold: (device: Desk, remote: RemoteDesk, id: string) => Promise<void>;
}

const PNG = new Blob([new Uint8Array([0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a])], {
  type: "image/png",
});
const nothing = (): void => undefined;

async function atDesk(remote: RemoteDesk, id: string): Promise<readonly unknown[]> {
  const visit = await remote.visit(id);
  return [visit?.entries.map((entry) => entry.id).toSorted(), visit?.photos.map((photo) => photo.id)];
}

export const HTTP_CLAUSES: readonly HttpClause[] = [
  {
    sentence: "has each entry and photo at the desk once, however often it is handed over",
    hold: async (device, remote, id) => {
      const desk = httpDesk(device, remote, nothing);
      await desk.visits.keep(withReading(withReading(begun(id), 205), 535, "+"));
      const taken = "2026-11-25T09:00:00.000Z";
      await desk.photos.keep({ id: `${id}-p`, visit: id, taken, name: "a.png", image: PNG, sent: false });
      await Promise.all([desk.handOver(id), desk.handOver(id)]);
      await desk.handOver(id);
      same("at the desk", await atDesk(remote, id), [["writer-one-1", "writer-one-2"], [`${id}-p`]]);
      const here = await desk.visits.one(id);
      same("waiting", here?.entries.filter(({ by }) => by === null).length, 0);
      same(
        "photo sent",
        (await device.photos.of(id)).map(({ sent }) => sent),
        [true],
      );
    },
  },
  {
    sentence: "sends again what was taken in while the answer was lost, and doubles nothing",
    hold: async (device, remote, id) => {
      let lost = 2;
      const bad: RemoteDesk = {
        ...remote,
        hand: async (...args) => {
          const answer = await remote.hand(...args);
          if (lost-- > 0) throw new Error("the answer was lost");
          return answer;
        },
      };
      const desk = httpDesk(device, bad, nothing);
      await desk.visits.keep(withReading(begun(id), 205));
      for (let time = 0; time < 2; time++)
        same(
          "refused",
          await desk.handOver(id).then(nothing, (error: unknown) => String(error)),
          "Error: the answer was lost",
        );
      same("still waiting", (await desk.visits.one(id))?.known, false);
      await desk.handOver(id);
      same("at the desk", await atDesk(remote, id), [["writer-one-1"], []]);
    },
  },
  {
    sentence: "opens a visit that is only at the desk, and goes on with it here",
    hold: async (device, remote, id) => {
      const first = httpDesk(device, remote, nothing);
      await first.visits.keep(withReading(begun(id), 205));
      await first.handOver(id);
      await device.visits.remove(id);
      const opened = await first.visits.one(id);
      same("readings", voltsOf(opened), [205]);
      await first.visits.keep(withReading({ ...opened!, writer: "writer-two" }, 535, "+"));
      await first.handOver(id);
      same("at the desk", await atDesk(remote, id), [["writer-one-1", "writer-two-1"], []]);
    },
  },
  {
    sentence: "asks to hand over what belongs to a desk, and never what stays on the device",
    hold: async (device, remote, id) => {
      const asked: string[] = [];
      const desk = httpDesk(device, remote, (visit) => {
        asked.push(visit);
      });
      await desk.visits.keep({ ...withReading(begun(id), 205), place: null });
      same("asked for one that stays", asked, []);
      await desk.visits.keep(withReading(begun(`${id}-b`), 205));
      same("asked", asked, [`${id}-b`]);
      await desk.handOver(id);
      same("at the desk", await remote.visit(id), null);
    },
  },
  {
    sentence: "takes in what others enter, also where asking for it fails at first, until nobody follows it",
    hold: async (device, remote, id) => {
      const lost = new Error("the answer was lost");
      const retries: (() => void)[] = [];
      let told: (visit: string) => void = nothing;
      let asked = 0;
      const bad: RemoteDesk = {
        ...remote,
        visit: async (visit) => {
          if (asked++ === 0) throw lost;
          return await remote.visit(visit);
        },
        hear: (changed) => {
          told = changed;
          return nothing;
        },
        retry: (failed, work) => {
          same("why", failed, lost);
          retries.push(work);
        },
      };
      const desk = httpDesk(device, bad, nothing);
      await desk.visits.keep(withReading(begun(id), 205));
      await desk.handOver(id);
      await device.visits.remove(id);
      const taken = new Promise<void>((heard) => {
        const stop = device.watch(() => {
          stop();
          heard();
        });
      });
      const stop = desk.follow(id);
      for (let turns = 0; retries.length === 0 && turns < 100; turns++)
        await new Promise((turn) => setTimeout(turn));
      retries[0]!();
      await taken;
      same("taken in", voltsOf(await device.visits.one(id)), [205]);
      stop();
      told(id);
      retries[0]!();
      same("asked", asked, 2);
    },
  },
];
