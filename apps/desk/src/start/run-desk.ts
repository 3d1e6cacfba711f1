import { randomBytes } from "node:crypto";
import { type DeskSettings, limitsInForce, WATCH_LIMITS, type WatchLimits } from "@earthbell/model";
import type { FastifyInstance, FastifyRequest } from "fastify";
import { inviteFirstPerson } from "../accounts/invitations.ts";
import { SESSION_TIMES } from "../accounts/sessions.ts";
import type { Clock } from "../clock.ts";
import { codeOf, deskFolder, reasonOf } from "../folder/desk-folder.ts";
import { deskId } from "../folder/desk-id.ts";
import { FolderFault } from "../folder/folder-fault.ts";
import type { Secrets } from "../folder/secrets.ts";
import type { SiteFiles } from "../folder/site-files.ts";
import type { DeskParts } from "../http/desk-parts.ts";
import { buildServer } from "../http/server.ts";
import { cookieNameFor } from "../http/session-cookie.ts";
import { DriftReader } from "../drift/drift-reader.ts";
import { createSiteJudge, type SiteJudge } from "../judge/judge-sites.ts";
import { judging } from "../judge/judging.ts";
import type { Listener } from "../listen/accept.ts";
import type { Log } from "../log.ts";
import { createBell } from "../outbox/index.ts";
import { createPaperOffice, type PaperOffice, type PaperTools } from "../papers/paper-office.ts";
import { assessToday } from "../rules/assess-today.ts";
import { openRuleBook, type RuleBook } from "../rules/rule-book.ts";
import type { OwnPack } from "../settings/set-up.ts";
import { type DeskStore, openStore } from "../store/index.ts";
import type { Channel } from "../tell/channel.ts";
import { liveChannel } from "../tell/live-channel.ts";
import { wordsFor } from "../tell/words/words.ts";
import { photoFolder } from "../visits/photo-files.ts";
import { createWatch, type Keeper, type Watch, type WatchOptions } from "../watch/index.ts";
import { brokersOf } from "./brokers-of.ts";
import { channelsOf } from "./channels-of.ts";
import type { DemoDamage } from "../fleet/demo-damage.ts";
import { countingAccept, deskMetrics } from "./desk-metrics.ts";
import { listenersOf } from "./listeners-of.ts";
import { liveSettings } from "./live-settings.ts";
import { noteRules } from "./note-rules.ts";
import { planFirstDrills } from "./plan-drills.ts";
import { runLoops } from "./run-loops.ts";
import { storePlaceOf } from "./store-place-of.ts";

/** What a desk is started with. */
export interface DeskStart {
  readonly settings: DeskSettings;
  readonly folder: string;
  readonly secrets: Secrets;
  readonly packs: readonly OwnPack[];
  /** Name of the file of the settings; null where a program gave them. */
  readonly settingsFile: string | null;
  readonly version: string;
  readonly clock: Clock;
  readonly log: Log;
  /** The built web app, served beside the interface. */
  readonly webFolder?: string;
  /** Uniform in [0, 1). */
  readonly random: () => number;
  /** The site files of the folder; absent: there are none. */
  readonly siteFiles?: SiteFiles;
  /** Makes papers; absent: none are made. */
  readonly paperTools?: PaperTools;
  /** Where the damage of invented arrays is hidden; absent: the arrays are real. */
  readonly demonstrated?: readonly DemoDamage[];
  /** Called once the watch runs and before anything is heard: site files are put in here. */
  readonly prepare?: (watch: Watch, store: DeskStore) => Promise<void>;
  /** Replaces what the settings say of the address to listen at. */
  readonly listenAt?: { readonly host?: string; readonly port?: number };
}

/** A desk at work. */
export interface RunningDesk {
  /** Where people and programs reach it on this machine. */
  readonly url: string;
  readonly store: DeskStore;
  readonly watch: Watch;
  readonly listeners: readonly Listener[];
  /** Where the first person makes an account; null once somebody who runs the desk can sign in. */
  readonly joinUrl: string | null;
  /** Stops in order: no more requests, no more readings, messages on their way finished, then the store. */
  stop(): Promise<void>;
}

const DEFAULT_PORT = 8420;
const LINK_HOLDS_MS = 7 * 24 * 3_600_000;

/** @throws FolderFault, StoreError or RangeError for what keeps it from starting; nothing runs then */
export async function runDesk(start: DeskStart): Promise<RunningDesk> {
  const { clock, log, settings } = start;
  const opened: (() => Promise<unknown>)[] = [];
  const closeAll = async (): Promise<void> => {
    const failed: unknown[] = [];
    // What cannot be closed in order, for want of a disk say, keeps nothing else open.
    for (const close of opened.reverse()) await close().catch((error: unknown) => failed.push(error));
    if (failed.length > 0) throw failed[0] as Error;
  };
  try {
    const id = await deskId(deskFolder(start.folder).idFile, () => randomBytes(8).toString("hex"));
    const brokers = brokersOf(settings, { ...start, deskId: id });
    const channels = channelsOf({ ...start, brokers }).map(liveChannel);
    opened.push(() => Promise.all(channels.map((channel) => channel.close())));
    const store = await openStore(storePlaceOf(start));
    opened.push(() => store.close());
    const rules = await openRuleBook(store, start.packs);
    const { editor, limits } = liveSettings(start, { store, channels, limitsOf, watch: () => watch });
    const bell = createBell(clock);
    const told = { limits, wroteMessages: bell.ring, assess: assessToday(rules, clock) };
    const watch = watchOf(start, { store, channels, at: addressOf(start), ...told });
    await watch.start();
    opened.push(() => watch.stop());
    await start.prepare?.(watch, store);
    await putLadders(start, watch);
    await watch.relight();
    await noteRules(store, rules, clock.now());
    if (settings.drills !== undefined) await planFirstDrills(store, watch, clock.now());
    const unasked = unaskedOf(start, store, rules);
    opened.push(runLoops(start, { store, watch, channels, bell, ...unasked }));
    const listeners: Listener[] = [];
    const metrics = deskMetrics(store, clock, () => listeners);
    const accept = countingAccept((readings) => watch.accept(readings), metrics);
    listeners.push(...(await listenersOf({ ...start, brokers, store, watch, accept })));
    opened.push(() => Promise.all(listeners.map((listener) => listener.stop())));
    const setUp = { ...start, file: start.settingsFile, channels, limits: limits() };
    const served = { store, watch, metrics, listeners, ...unasked, rules, setUp, settings: editor };
    const app = await serverOf(start, served);
    opened.push(() => app.close());
    const url = await listen(app, addressOf(start));
    const ways = channels.map(({ kind }) => kind);
    log.info({ url, listeners: listeners.length, channels: ways }, "the desk is at work");
    const joinUrl = await joinUrlAt(settings.desk.publicUrl ?? url, store, clock.now());
    return { url, store, watch, listeners, joinUrl, stop: closeAll };
  } catch (error) {
    await closeAll().catch((failed: unknown) => {
      log.error({ err: failed }, "not everything could be closed in order");
    });
    throw error;
  }
}

/** What is worked out beside the requests, so that whoever asks finds it ready. */
function unaskedOf({ clock, log }: DeskStart, store: DeskStore, { packs }: RuleBook) {
  const judge = createSiteJudge({ store, clock, log, packs, judging: judging() });
  return { judge, drift: new DriftReader(store, clock) };
}

/** Where the first person makes an account; null once somebody who runs the desk can sign in. */
async function joinUrlAt(address: string, store: DeskStore, at: number): Promise<string | null> {
  const invitation = await inviteFirstPerson(store, at);
  return invitation === null ? null : `${address}/join/${invitation}`;
}

interface Watching extends Pick<WatchOptions, "store" | "assess" | "limits" | "wroteMessages"> {
  readonly channels: readonly Channel[];
  readonly at: Address;
}

function watchOf(start: DeskStart, { channels, at, ...parts }: Watching): Watch {
  const { clock, log, settings } = start;
  return createWatch({
    ...parts,
    clock,
    log,
    words: wordsFor,
    channels: channels.map(({ kind }) => kind),
    keepers: keepersOf(settings),
    beacons: settings.beacons ?? [],
    acknowledgeAt: `${settings.desk.publicUrl ?? `http://${at.host}:${String(at.port)}`}/a/`,
    linkHoldsMs: minutesMs(settings.desk.linksHold) ?? LINK_HOLDS_MS,
  });
}

function serverOf(
  start: DeskStart,
  made: Pick<
    DeskParts,
    "store" | "watch" | "metrics" | "listeners" | "drift" | "rules" | "setUp" | "settings"
  > & {
    readonly judge: SiteJudge;
  },
): Promise<FastifyInstance> {
  const { settings, version, clock, log, webFolder, folder } = start;
  const { name, publicUrl, behindProxy, signedIn, requestsPerMinute } = settings.desk;
  const { judge, ...parts } = made;
  return buildServer({
    ...parts,
    standing: judge.standing,
    judgeAnew: judge.judgeAnew,
    photos: photoFolder(deskFolder(folder).photosFolder),
    papers: officeOf(start, made.store),
    siteFiles: start.siteFiles ?? null,
    name,
    version,
    clock,
    log,
    origin: originOf(publicUrl),
    cookieName: cookieNameFor(publicUrl),
    signedIn: {
      unusedMs: minutesMs(signedIn?.unused) ?? SESSION_TIMES.unusedMs,
      longestMs: minutesMs(signedIn?.longest) ?? SESSION_TIMES.longestMs,
    },
    ...(requestsPerMinute === undefined ? {} : { requestsPerMinute }),
    webFolder: webFolder ?? null,
    behindProxy: behindProxy ?? false,
    demonstrated: start.demonstrated ?? [],
  });
}

function officeOf({ paperTools: tools, folder, version }: DeskStart, store: DeskStore): PaperOffice | null {
  if (tools === undefined) return null;
  const { papersFolder, photosFolder, feedKeyFile, signingFolder } = deskFolder(folder);
  return createPaperOffice({
    ...{ tools, folder: papersFolder, photoFolder: photosFolder, feedKeyFile, signingFolder },
    ...{ store, version },
  });
}

/** Ladders that the settings add to the paths of site files. */
async function putLadders({ settings: { ladders = [] }, log }: DeskStart, watch: Watch): Promise<void> {
  for (const { site, path, rungs } of ladders) {
    const put = await watch.putLadder(
      site,
      path,
      rungs.map(({ after, ...rung }) => ({ afterMin: after, ...rung })),
      "desk.yaml",
    );
    if (!put.ok)
      log.error({ site, path, code: put.refusal.code }, `a ladder was not taken: ${put.refusal.text}`);
  }
}

/** Without a public address the desk goes by that of the request: it is then reached on its own machine only. */
function originOf(publicUrl: string | undefined): (request: FastifyRequest) => string {
  const known = publicUrl === undefined ? null : new URL(publicUrl).origin;
  return (request) => known ?? `${request.protocol}://${request.host}`;
}

function limitsOf({ limits = {}, drills }: DeskSettings): WatchLimits {
  const own = limitsInForce(WATCH_LIMITS, limits, "desk.yaml");
  const months = drills?.everyMonths;
  if (months === undefined) return own;
  const holds = { value: months, unit: "months", source: "desk.yaml, drills", tag: "user" } as const;
  return { ...own, drillHoldsMonths: holds };
}

function minutesMs(minutes: number | undefined): number | undefined {
  return minutes === undefined ? undefined : Math.round(minutes * 60_000);
}

function keepersOf({ keepers = [] }: DeskSettings): readonly Keeper[] {
  return keepers.flatMap(({ name, email, phone, webhook }) => [
    ...(email === undefined ? [] : [{ person: name, channel: "email" as const, address: email }]),
    ...(phone === undefined ? [] : [{ person: name, channel: "sms" as const, address: phone }]),
    ...(webhook === undefined ? [] : [{ person: name, channel: "webhook" as const, address: webhook }]),
  ]);
}

interface Address {
  readonly host: string;
  readonly port: number;
}

function addressOf({ settings, listenAt }: DeskStart): Address {
  const { host, port } = settings.desk.listen ?? {};
  return { host: listenAt?.host ?? host ?? "127.0.0.1", port: listenAt?.port ?? port ?? DEFAULT_PORT };
}

/** @throws FolderFault DESK_PORT_TAKEN */
async function listen(app: FastifyInstance, at: Address): Promise<string> {
  try {
    return await app.listen(at);
  } catch (error) {
    if (!["EADDRINUSE", "EACCES", "EADDRNOTAVAIL"].includes(codeOf(error) ?? "")) throw error;
    throw new FolderFault("DESK_PORT_TAKEN", `${at.host}:${String(at.port)}: ${reasonOf(error)}.`);
  }
}
