import { checkReading, type RegisterAnswer, type WatchReading } from "@earthbell/model";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { registerMap } from "../../fleet/register-map.ts";
import { PlayedClock } from "./played-clock.fixture.ts";
import { quietLog, settingsOf } from "./played-gateway.fixture.ts";
import { LinkFault, type LinkFaultKind, type OpenLink } from "./register-link.ts";
import { startSunspecListener } from "./sunspec-listener.ts";

/** What a device that cannot be trusted does with one request. */
type Trick =
  | { readonly trick: "honest" }
  | { readonly trick: "words"; readonly words: readonly number[] }
  | { readonly trick: "one-word"; readonly at: number; readonly word: number }
  | { readonly trick: "exception"; readonly exception: number }
  | { readonly trick: "fault"; readonly kind: LinkFaultKind };

const word = fc.oneof(fc.constantFrom(0, 0x8000, 0xffff, 0x5375, 0x6e53, 1, 103, 122), fc.nat(0xffff));
const trick: fc.Arbitrary<Trick> = fc.oneof(
  { weight: 6, arbitrary: fc.constant<Trick>({ trick: "honest" }) },
  fc.record({ trick: fc.constant("words" as const), words: fc.array(word, { maxLength: 130 }) }),
  fc.record({ trick: fc.constant("one-word" as const), at: fc.nat(124), word }),
  fc.record({ trick: fc.constant("exception" as const), exception: fc.nat(255) }),
  fc.record({
    trick: fc.constant("fault" as const),
    kind: fc.constantFrom<LinkFaultKind>("no-answer", "closed", "unsound"),
  }),
);

const tricksOfDevice: fc.Arbitrary<readonly Trick[]> = fc.array(trick, { minLength: 1, maxLength: 40 });

/** Its sixth answer, while the models are looked for, names one more that is watched and not there. */
const MADE_UP_MODEL: readonly Trick[] = [
  { trick: "words", words: [103, 103] },
  ...Array.from({ length: 7 }, (): Trick => ({ trick: "honest" })),
];

function untrustworthy(tricks: readonly Trick[]): OpenLink {
  const { words } = registerMap("trackers", 40_000, "S-1");
  let request = 0;
  return () =>
    Promise.resolve({
      close: () => undefined,
      read: async (_, { address, count }): Promise<RegisterAnswer> => {
        await Promise.resolve();
        const next = tricks[request++ % tricks.length]!;
        const honest = [
          ...words.subarray(Math.max(0, address - 40_000), Math.max(0, address - 40_000 + count)),
        ];
        switch (next.trick) {
          case "honest":
            return honest.length === count ? { ok: true, registers: honest } : { ok: false, exception: 2 };
          case "words":
            return { ok: true, registers: next.words };
          case "one-word":
            return { ok: true, registers: honest.map((one, at) => (at === next.at ? next.word : one)) };
          case "exception":
            return { ok: false, exception: next.exception };
          case "fault":
            throw new LinkFault(next.kind, "Something else came.");
        }
      },
    });
}

describe("a poller of devices that cannot be trusted", () => {
  it("goes on, tells sound readings only, and hears the device again once it behaves", async () => {
    const errors: unknown[] = [];
    const log = { ...quietLog, error: (about: unknown) => errors.push(about) };
    await fc.assert(
      fc.asyncProperty(tricksOfDevice, async (drawn) => {
        const clock = new PlayedClock(Date.UTC(2026, 5, 1, 8));
        const tricks = [...drawn];
        const told: WatchReading[] = [];
        const listener = startSunspecListener(
          { gateways: [settingsOf("g", [1])] },
          {
            clock,
            log,
            random: () => 0.5,
            open: untrustworthy(tricks),
            accept: (readings) => {
              told.push(...readings);
              return Promise.resolve({ taken: readings.length, known: 0, setAside: [] });
            },
          },
        );
        await clock.pass(3 * 60_000);
        for (const reading of told) expect(checkReading(reading)).toMatchObject({ ok: true });
        tricks.splice(0, tricks.length, { trick: "honest" });
        await clock.pass(15 * 60_000);
        expect(listener.health().state).toBe("hearing");
        const stopped = listener.stop();
        await clock.pass(5000);
        await stopped;
        expect(errors).toEqual([]);
      }),
      { numRuns: 60, examples: [[MADE_UP_MODEL]] },
    );
  });
});
