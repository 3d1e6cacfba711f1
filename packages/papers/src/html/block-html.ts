import type {
  Block,
  Drawing,
  Fields,
  Figures,
  List,
  Photographs,
  Signatures,
  Table,
} from "../content/paper.ts";
import type { FrameWords } from "../language/frame-words.ts";
import { escapeHtml as text } from "./escape-html.ts";

/** One block of a paper as HTML. */
export function blockHtml(block: Block, words: FrameWords): string {
  switch (block.kind) {
    case "heading":
      return `<h${block.level + 1}>${text(block.text)}</h${block.level + 1}>`;
    case "paragraph":
      return `<p${block.weight === undefined ? "" : ` class="${block.weight}"`}>${text(block.text)}</p>`;
    case "list":
      return listHtml(block);
    case "table":
      return tableHtml(block);
    case "figures":
      return figuresHtml(block, words);
    case "drawing":
      return drawingHtml(block);
    case "photographs":
      return photographsHtml(block);
    case "checklist":
      return `<ul class="check">${block.items.map((item) => `<li>${text(item.text)}${item.note === undefined ? "" : `<span class="note">${text(item.note)}</span>`}</li>`).join("")}</ul>`;
    case "cautions":
      return `<section class="cautions"><strong>${text(block.title)}</strong><ul>${block.items.map((item) => `<li>${text(item)}</li>`).join("")}</ul>${block.reviewed === "" ? "" : `<p class="note">${text(block.reviewed)}</p>`}</section>`;
    case "fields":
      return fieldsHtml(block);
    case "signatures":
      return signaturesHtml(block, words);
    case "columns": {
      const side = (blocks: readonly Block[]): string =>
        `<div>${blocks.map((one) => blockHtml(one, words)).join("\n")}</div>`;
      const shares = `${block.share}fr ${Number((1 - block.share).toFixed(4))}fr`;
      return `<div class="columns" style="grid-template-columns:${shares}">${side(block.left)}${side(block.right)}</div>`;
    }
  }
}

function listHtml({ items, numbered, strong }: List): string {
  const tag = numbered === true ? "ol" : "ul";
  const style = strong === true ? ' class="strong"' : "";
  return `<${tag}${style}>${items.map((item) => `<li>${text(item)}</li>`).join("")}</${tag}>`;
}

function captionHtml(caption: string): string {
  return caption === "" ? "" : `<caption>${text(caption)}</caption>`;
}

function tableHtml({ caption, columns, rows, toWrite }: Table): string {
  const aligned = (index: number): string => (columns[index]?.right === true ? ' class="right"' : "");
  const head = columns.map(({ head }, index) => `<th scope="col"${aligned(index)}>${text(head)}</th>`);
  const body = rows.map(
    (row) => `<tr>${row.map((cell, index) => `<td${aligned(index)}>${cellHtml(cell)}</td>`).join("")}</tr>`,
  );
  return scrolling(
    `<table${toWrite === true ? ' class="write"' : ""}>${captionHtml(caption)}<thead><tr>${head.join("")}</tr></thead><tbody>${body.join("\n")}</tbody></table>`,
  );
}

/** Letters of a cell that stands on one line. */
const SHORT = 10;

/** A day is not parted at its strokes, nor a short cell in the middle of a word. */
function cellHtml(cell: string): string {
  if (cell !== "" && cell.length <= SHORT) return `<span class="whole">${text(cell)}</span>`;
  return text(cell).replace(/\b\d{4}-\d\d-\d\d\b/gu, '<span class="whole">$&</span>');
}

/** A table that is wider than a narrow screen is scrolled by itself, by keyboard as well. */
function scrolling(table: string): string {
  return `<div class="scroll" tabindex="0">${table}</div>`;
}

function figuresHtml({ caption, rows }: Figures, words: FrameWords): string {
  const body = rows.map(
    ({ label, value, source, tag }) =>
      `<tr><td>${text(label)}</td><td><strong>${text(value)}</strong></td><td class="source">${text(`${source}; ${words.tags[tag]}`)}</td></tr>`,
  );
  const head = [words.figure, words.value, words.source].map((one) => `<th scope="col">${text(one)}</th>`);
  return scrolling(
    `<table>${captionHtml(caption)}<thead><tr>${head.join("")}</tr></thead><tbody>${body.join("\n")}</tbody></table>`,
  );
}

/** As an image of its own, so that its styles do not reach the page. */
function drawingHtml({ svg, alt, caption, width }: Drawing): string {
  const image = `<img alt="${text(alt)}" style="width:${Number((width * 100).toFixed(1))}%" src="data:image/svg+xml,${encodeURIComponent(svg)}">`;
  return `<figure>${image}${caption === "" ? "" : `<figcaption>${text(caption)}</figcaption>`}</figure>`;
}

/** Each is a JPEG that was made for the paper, so nothing that was handed over is in the page as it came. */
function photographsHtml({ across, items }: Photographs): string {
  const figures = items.map(({ picture, alt, caption }) => {
    const { jpeg, width, height } = picture;
    const image = `<img alt="${text(alt)}" width="${width}" height="${height}" src="data:image/jpeg;base64,${base64(jpeg)}">`;
    return `<figure>${image}<figcaption>${text(caption)}</figcaption></figure>`;
  });
  return `<div class="photos across${across}">${figures.join("\n")}</div>`;
}

/** Bytes that are turned into text at a time; all at once would be too many arguments. */
const PORTION = 0x8000;

function base64(bytes: Uint8Array): string {
  let characters = "";
  for (let at = 0; at < bytes.length; at += PORTION)
    characters += String.fromCharCode(...bytes.subarray(at, at + PORTION));
  return btoa(characters);
}

function fieldsHtml({ rows }: Fields): string {
  const entries = rows.map(({ label, value, lines }) =>
    value === undefined
      ? `<dt>${text(label)}</dt><dd class="blank" style="min-height:${1.5 * (lines ?? 1)}em"></dd>`
      : `<dt>${text(label)}</dt><dd>${text(value)}</dd>`,
  );
  return `<dl class="fields">${entries.join("")}</dl>`;
}

function signaturesHtml({ roles, named = [] }: Signatures, words: FrameWords): string {
  return roles
    .map((role) => {
      const labels = [`${role}: ${words.name}`, words.signature, words.date];
      const known = named.find((one) => one.role === role);
      const written = [known?.name ?? "", "", known?.on ?? ""];
      const lines = written.map((one) => `<span class="line">${text(one)}</span>`).join("");
      return `<div class="signature">${lines}${labels.map((label) => `<span class="note">${text(label)}</span>`).join("")}</div>`;
    })
    .join("");
}
