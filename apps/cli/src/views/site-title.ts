import type { Site } from "@earthbell/engine";
import { textWidth } from "../terminal/margin.ts";
import type { Page } from "../terminal/page.ts";
import { wrap } from "../terminal/wrap.ts";

/** Name, id and place of a site, and what the page says of it. */
export function siteTitle({ id, name, place }: Site, what: string, page: Page): string[] {
  const where = [place.country, place.region].filter((part) => part !== undefined).join("-");
  const title = name === undefined ? id : `${name} (${id})`;
  return [
    ...wrap(title, textWidth(page)).map(page.style.strong),
    ...wrap(`${where}; ${what}`, textWidth(page)),
  ];
}
