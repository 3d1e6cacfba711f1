import type { Mark } from "@earthbell/engine";
import { setMark } from "./drawing.tsx";

/** The page's policy forbids a style sheet inside a drawing, even where the text of it is only parsed. */
const STYLE = /<style>[^<]*<\/style>/u;
/** What a drawing given as SVG text may hold. */
const DRAWN = new Set(["g", "line", "path", "rect", "circle", "ellipse", "text"]);

function marksOf(element: Element): Mark[] {
  return [...element.children]
    .filter(({ tagName }) => DRAWN.has(tagName))
    .map((child) => {
      const attributes = Object.fromEntries([...child.attributes].map(({ name, value }) => [name, value]));
      const inside =
        child.children.length > 0 ? marksOf(child) : [child.textContent].filter((text) => text !== "");
      return { tag: child.tagName, attributes, children: inside };
    });
}

/** A schematic that the engine hands out as SVG text, set as elements of the page. */
export function Schematic({ svg, title }: { readonly svg: string; readonly title: string }) {
  const document = new DOMParser().parseFromString(svg.replace(STYLE, ""), "image/svg+xml").documentElement;
  return (
    <figure className="drawing loop scroll" role="region" aria-label={title} tabIndex={0}>
      <svg viewBox={document.getAttribute("viewBox") ?? ""} role="img" aria-label={title}>
        {marksOf(document).map(setMark)}
      </svg>
    </figure>
  );
}
