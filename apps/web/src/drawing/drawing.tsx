import type { Drawing, DrawingTable, Mark } from "@earthbell/engine";
import { createElement, type ReactNode, startTransition, useEffect, useId, useRef, useState } from "react";

/** Attributes that React names otherwise. */
function named(attributes: Mark["attributes"]): Record<string, string | number> {
  return Object.fromEntries(
    Object.entries(attributes).map(([name, value]) => [
      name === "class"
        ? "className"
        : name.replace(/-([a-z])/gu, (_, letter: string) => letter.toUpperCase()),
      value,
    ]),
  );
}

export function setMark(mark: Mark | string, key: number): ReactNode {
  if (typeof mark === "string") return mark;
  return createElement(mark.tag, { ...named(mark.attributes), key }, ...mark.children.map(setMark));
}

/** Width of a place on the page, so that a drawing is made for it and its words stay readable. */
function useWidth(): [React.RefObject<HTMLDivElement | null>, number] {
  const place = useRef<HTMLDivElement>(null);
  const [width, setWidth] = useState(0);
  useEffect(() => {
    const watcher = new ResizeObserver(([entry]) => {
      // In slices: a drawing of many marks must not keep a press waiting.
      if (entry !== undefined)
        startTransition(() => {
          setWidth(Math.floor(entry.contentRect.width));
        });
    });
    if (place.current !== null) watcher.observe(place.current);
    return () => {
      watcher.disconnect();
    };
  }, []);
  return [place, width];
}

interface DrawnProps {
  readonly draw: (width: number) => Drawing;
  /** Widest the drawing is made. */
  readonly most?: number;
}

/** A drawing of the engine at the width there is, with the same as a table one step away. */
export function Drawn({ draw, most = 980 }: DrawnProps) {
  const [place, width] = useWidth();
  const drawing = width > 0 ? draw(Math.min(most, width)) : null;
  return (
    <figure className="drawing flow">
      <div ref={place}>
        {drawing === null ? null : (
          <svg
            viewBox={`0 0 ${drawing.width} ${drawing.height}`}
            width={drawing.width}
            height={drawing.height}
            role="img"
            aria-label={drawing.title}
          >
            {drawing.marks.map(setMark)}
          </svg>
        )}
      </div>
      {drawing === null ? null : <AsTable table={drawing.table} />}
    </figure>
  );
}

function AsTable({ table: { caption, columns, rows } }: { readonly table: DrawingTable }) {
  const id = useId();
  return (
    <details className="small">
      <summary>The drawing as a table</summary>
      <div className="scroll" role="region" aria-labelledby={id} tabIndex={0}>
        <table>
          <caption id={id}>{caption}</caption>
          <thead>
            <tr>
              {columns.map((column) => (
                <th key={column} scope="col">
                  {column}
                </th>
              ))}
            </tr>
          </thead>
          <tbody>
            {rows.map((row, i) => (
              <tr key={i}>
                {row.map((cell, j) => (
                  <td key={j}>{cell}</td>
                ))}
              </tr>
            ))}
          </tbody>
        </table>
      </div>
    </details>
  );
}
