import type { FastifyRequest } from "fastify";
import type { SessionTimes } from "../accounts/sessions.ts";
import type { Clock } from "../clock.ts";
import type { DriftReader } from "../drift/drift-reader.ts";
import type { SiteStanding } from "../judge/site-standing.ts";
import type { SiteFiles } from "../folder/site-files.ts";
import type { Listener } from "../listen/accept.ts";
import type { Log } from "../log.ts";
import type { PaperOffice } from "../papers/paper-office.ts";
import type { RuleBook } from "../rules/rule-book.ts";
import type { SettingsEditor } from "../settings/settings-editor.ts";
import type { SetUp } from "../settings/set-up.ts";
import type { DemoDamage } from "../fleet/demo-damage.ts";
import type { DeskStore } from "../store/index.ts";
import type { PhotoFiles } from "../visits/photo-files.ts";
import type { Watch } from "../watch/watch.ts";

/** What the HTTP side is made with. */
export interface DeskParts {
  readonly name: string;
  readonly version: string;
  readonly store: DeskStore;
  readonly watch: Watch;
  readonly clock: Clock;
  readonly log: Log;
  /** The desk in numbers, as text in the media type that it names. */
  readonly metrics: { readonly contentType: string; metrics(): Promise<string> };
  readonly listeners: readonly Listener[];
  /** How a site stands by its file; null until it has been judged. */
  readonly standing: (site: string) => SiteStanding | null;
  /** What the insulation histories of the fleet say. */
  readonly drift: DriftReader;
  /** Says that the rules have changed, so that every site is judged anew. */
  readonly judgeAnew: () => void;
  /** The rule packs that the desk goes by. */
  readonly rules: RuleBook;
  /** Where photos of visits lie. */
  readonly photos: PhotoFiles;
  /** The site files of the folder that the desk runs from; null where it runs from none. */
  readonly siteFiles: SiteFiles | null;
  /** Where papers are made; null where the program that started the desk makes none. */
  readonly papers: PaperOffice | null;
  /** Origin under which browsers reach the desk: the public one, or that of the request where none is set. */
  readonly origin: (request: FastifyRequest) => string;
  /** Where the damage of invented arrays is hidden; empty at a desk of real ones. */
  readonly demonstrated: readonly DemoDamage[];
  /** What the desk was started with. */
  readonly setUp: SetUp;
  /** Changes the settings while the desk runs; null where it runs from no file. */
  readonly settings: SettingsEditor | null;
  /** Absent: what suits most desks. */
  readonly signedIn?: SessionTimes;
  /** Requests that one sender may make in a minute; absent: 600. */
  readonly requestsPerMinute?: number;
  /** Name of the cookie of a session. */
  readonly cookieName: string;
  /** The built web app; null where it is not served. */
  readonly webFolder: string | null;
  /** The desk stands behind a proxy that it trusts to say who asks. */
  readonly behindProxy: boolean;
}
