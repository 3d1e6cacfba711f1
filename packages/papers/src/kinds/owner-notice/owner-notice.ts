import type { AnnunciatorPath, MessagePath, Path, Site } from "@earthbell/engine";
import type { Block, CautionBox, Fields, Paper } from "../../content/paper.ts";
import { siteName } from "../../content/site-name.ts";
import { drawWhere } from "../../drawings/where-picture.ts";
import type { Issue } from "../../identity/issue.ts";
import { dayWords, type Language, listed } from "../../language/language.ts";
import { noticeInEnglish } from "./notice-english.ts";
import { distanceWords, intervalWords, invertersOf, safetyTextReview, whomToCall } from "./notice-facts.ts";
import { noticeInSpanish } from "./notice-spanish.ts";
import type { NoticeWords } from "./notice-words.ts";

const WORDS: Readonly<Record<Language, NoticeWords>> = { en: noticeInEnglish, es: noticeInSpanish };
/** A path that names no end of its messages ends them by either. */
const EITHER: NonNullable<MessagePath["until"]> = ["acknowledged", "cleared"];
/** Paths and pictures that one page still carries in large type. */
const MOST_PATHS = 8;
const MOST_PICTURES = 2;

interface Telling {
  readonly site: Site;
  readonly words: NoticeWords;
  readonly language: Language;
}

/**
 * The notice given to the owner: on one page, in plain words, what the alarm of exactly this site is like, what else sets it
 * off, what to do and never to do, whom to call, how it is stopped and what happens next. What never to do stands first.
 *
 * @param issue  of kind owner-notice; its date decides who still holds a post
 */
export function ownerNotice(site: Site, issue: Issue): Paper {
  const { language } = issue;
  const words = WORDS[language];
  const telling = { site, words, language };
  return {
    kind: "owner-notice",
    language,
    title: words.title,
    subject: siteName(site),
    look: "notice",
    issue,
    blocks: [
      { kind: "paragraph", text: words.lead },
      neverBox(telling),
      { kind: "heading", level: 1, text: words.now },
      { kind: "list", numbered: true, strong: true, items: steps(telling, issue.date) },
      ...telephones(telling, issue.date),
      { kind: "heading", level: 1, text: words.alarmHere },
      ...alarmBlocks(telling),
      ...(site.paths.length === 0 ? [] : ofItsOwn(telling)),
      { kind: "heading", level: 1, text: words.nextTitle },
      { kind: "list", items: words.next },
    ],
  };
}

/** What an alarm does and how it is stopped; where none is on record there is nothing to say of it. */
function ofItsOwn(telling: Telling): readonly Block[] {
  const { words } = telling;
  return [
    { kind: "heading", level: 1, text: words.elseTitle },
    { kind: "list", items: elseItems(telling) },
    { kind: "heading", level: 1, text: words.stopTitle },
    ...stopBlocks(telling),
  ];
}

function neverBox({ words, language }: Telling): CautionBox {
  const { owner, on } = safetyTextReview();
  return {
    kind: "cautions",
    title: words.never,
    items: [words.keepOff, words.open, words.live, words.reset, words.leaveAlarm],
    reviewed: words.reviewed(owner, dayWords(on, language)),
  };
}

function steps({ site, words, language }: Telling, onDate: string): readonly string[] {
  const people = whomToCall(site, onDate).slice(0, 3);
  const reached = people.map(({ id, address }) => {
    const by = address?.phone ?? address?.email;
    return by === undefined ? id : `${id} (${by})`;
  });
  const called = reached.length === 0 ? words.callUnknown : words.call(listed(reached, language));
  const messages = site.paths.some(({ signal }) => signal === "message");
  return [words.stayAway, words.shutDown, called, ...(messages ? [words.acknowledge] : [])];
}

/** A line to write on, where the site file knows no telephone number. */
function telephones({ site, words }: Telling, onDate: string): readonly Fields[] {
  const known = whomToCall(site, onDate).some(({ address }) => address?.phone !== undefined);
  return known ? [] : [{ kind: "fields", rows: [{ label: words.telephone }] }];
}

function alarmBlocks(telling: Telling): readonly Block[] {
  const { site, words } = telling;
  if (site.paths.length === 0) return [{ kind: "paragraph", text: words.noAlarm }];
  const shown = site.paths.slice(0, MOST_PATHS);
  const more = site.paths.length - shown.length;
  const items = [...shown.map((path) => alarmWords(path, telling)), ...(more > 0 ? [`+ ${more}`] : [])];
  const pictures = shown.flatMap((path) => pictureOf(path, telling)).slice(0, MOST_PICTURES);
  const list: Block = { kind: "list", items };
  return pictures.length === 0 ? [list] : [{ kind: "columns", share: 0.6, left: [list], right: pictures }];
}

function alarmWords(path: Path, { site, words, language }: Telling): string {
  const several = site.arrays.length > 1;
  const covers = several ? ` ${words.covers(listed(path.arrays, language))}` : "";
  switch (path.signal) {
    case "message": {
      const to = listed(path.to.slice(0, 6), language);
      return words.message(to, intervalWords(path, language)) + covers;
    }
    case "annunciator": {
      const distance = distanceWords(path.listener?.distance, language);
      return words.sounds(path.loop?.load?.kind ?? "unknown", distance) + covers;
    }
    case "indicator":
      return (
        invertersOf(path, site)
          .map(({ id, where }) => words.light(id, where?.description ?? "", distanceWords(where, language)))
          .join(" ") + covers
      );
  }
}

function pictureOf(path: Path, telling: Telling): readonly Block[] {
  if (path.signal === "message") return [];
  return path.signal === "indicator" ? lightPictures(path, telling) : [sounderPicture(path, telling)];
}

function lightPictures(path: Path, { site, words, language }: Telling): readonly Block[] {
  return invertersOf(path, site)
    .slice(0, 1)
    .map(({ id, where }) => {
      const distance = distanceWords(where, language);
      return {
        kind: "drawing",
        svg: drawWhere({ device: "light", label: id, distance, walls: 0, you: words.you }),
        alt: words.pictureLight(id, where?.description ?? "", distance),
        caption: where?.description ?? "",
        width: 1,
      };
    });
}

function sounderPicture({ listener, id, loop }: AnnunciatorPath, { words, language }: Telling): Block {
  const distance = distanceWords(listener?.distance, language);
  const walls = listener?.barriers?.length ?? 0;
  const light = loop?.load?.kind === "lamp" || loop?.load?.kind === "beacon";
  const device = light ? "light" : "sounder";
  return {
    kind: "drawing",
    svg: drawWhere({ device, label: id, distance, walls, you: words.you }),
    alt: words.pictureSounder(distance, walls),
    caption: "",
    width: 1,
  };
}

/** Whether something of a path operates for any fault of the inverter. */
function operatesOnAny(path: Path, site: Site): boolean {
  if (path.signal === "message") return false;
  const relays = invertersOf(path, site).map(({ relay }) => relay?.operatesOn);
  return path.signal === "indicator" || relays.some((on) => on !== "earth-fault");
}

function elseItems({ site, words }: Telling): readonly string[] {
  const any = site.paths.some((path) => operatesOnAny(path, site));
  return [any ? words.anyFault : words.earthOnly, words.wet, words.test];
}

function stopBlocks({ site, words }: Telling): readonly Block[] {
  const signals = new Set(site.paths.map(({ signal }) => signal));
  const messages = site.paths.filter((path): path is MessagePath => path.signal === "message");
  const until = [...new Set(messages.flatMap((path) => path.until ?? EITHER))];
  const said = until.map((event) => words[event]).join(words.or);
  const items = [
    ...(signals.has("message") ? [words.stopMessage(said)] : []),
    ...(signals.has("indicator") ? [words.stopLight] : []),
    ...(signals.has("annunciator") ? [words.stopSound] : []),
  ];
  return [
    { kind: "list", items },
    ...(signals.has("annunciator")
      ? [{ kind: "fields", rows: [{ label: words.soundSwitch }] } as const]
      : []),
  ];
}
