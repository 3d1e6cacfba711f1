import { existsSync, mkdtempSync, readFileSync, rmdirSync } from "node:fs";
import { createRequire } from "node:module";
import { tmpdir } from "node:os";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";
import { glyphCoverage, type Setting, type Typesetter } from "@earthbell/papers";
import { otherFonts, type ScriptOrder } from "./other-fonts.ts";

/** The type of every paper, from one pinned source, so that the same paper has the same bytes. */
const FONT_FILES = ["DejaVuSans.ttf", "DejaVuSans-Bold.ttf"] as const;
/** PDF for people who cannot see it; the compiler refuses a paper that does not keep to it. */
const STANDARD = "ua-1";

/** PDF cannot be made here: the compiler or its fonts are not installed. */
export class NoTypesetter extends Error {
  override readonly name = "NoTypesetter";
}

/**
 * The compiler of papers, with its fonts. It is native and optional, so it is loaded only when a PDF is wanted. Fonts
 * are looked for in `fonts/` beside the bundled program, then in the package of fonts.
 *
 * @throws NoTypesetter where the compiler or a font is missing
 */
export async function openTypesetter(): Promise<Typesetter> {
  const { NodeCompiler } = await loadCompiler();
  const folder = fontFolder();
  const first = FONT_FILES.map((name) => readFileSync(join(folder, name)));
  const compilerWith = (more: readonly string[]): Opened => {
    // A workspace that is not there any more: a paper reads nothing from the disk.
    const workspace = mkdtempSync(join(tmpdir(), "earthbell-paper-"));
    const fontBlobs = [...first, ...more.map((path) => readFileSync(path))];
    const compiler = NodeCompiler.create({ workspace, fontArgs: [{ fontBlobs }] });
    rmdirSync(workspace);
    return { compiler, workspace };
  };
  const ordinary = compilerWith([]);
  const draws = glyphCoverage(first[0]!);
  const others = otherFonts(draws);
  // One for each order, with the same fonts always, so that the bytes of a paper do not depend on the papers before it.
  const extended = new Map<ScriptOrder, Opened>();
  const compilerFor = (text: string): Opened => {
    const order = others.orderFor(text);
    if (order === undefined) return ordinary;
    const compiler = extended.get(order) ?? compilerWith(others.paths(order));
    extended.set(order, compiler);
    return compiler;
  };
  return {
    draws: (codePoint) => draws(codePoint) || others.draws(codePoint),
    pdf: (setting) => Promise.resolve(setBy(compilerFor(setting.data), setting)),
  };
}

type Compiler = InstanceType<typeof import("@myriaddreamin/typst-ts-node-compiler").NodeCompiler>;

interface Opened {
  readonly compiler: Compiler;
  readonly workspace: string;
}

function setBy(
  { compiler, workspace }: Opened,
  { template, data, files, sizes, createdAt }: Setting,
): Uint8Array {
  const paths = [...files.keys()].map((path) => join(workspace, path));
  try {
    // In the memory of the compiler only.
    for (const [at, bytes] of [...files.values()].entries())
      compiler.mapShadow(paths[at]!, Buffer.from(bytes));
    const document = fitting(sizes, (size) => {
      const made = compiler.compile({ mainFileContent: template, inputs: { data, size: String(size) } });
      const error = made.takeError();
      if (error !== null) throw new Error(JSON.stringify(compiler.fetchDiagnostics(error)));
      return made.result!;
    });
    return compiler.pdf(document, { pdfStandard: STANDARD, creationTimestamp: createdAt });
  } finally {
    for (const path of paths) compiler.unmapShadow(path);
    // Nothing of one paper is of use to the next, and memory stays flat.
    compiler.evictCache(0);
  }
}

/** The layout of the first size that takes one page, or of the last. */
function fitting<Laid extends { readonly numOfPages: number }>(
  sizes: readonly number[],
  layOut: (size: number) => Laid,
): Laid {
  const last = sizes.length - 1;
  for (let at = 0; at < last; at++) {
    const laid = layOut(sizes[at]!);
    if (laid.numOfPages === 1) return laid;
  }
  return layOut(sizes[last]!);
}

async function loadCompiler(): Promise<typeof import("@myriaddreamin/typst-ts-node-compiler")> {
  try {
    return await import("@myriaddreamin/typst-ts-node-compiler");
  } catch (error) {
    throw new NoTypesetter("the package @myriaddreamin/typst-ts-node-compiler is not installed", {
      cause: error,
    });
  }
}

function fontFolder(): string {
  const shipped = fileURLToPath(new URL("fonts/", import.meta.url));
  if (FONT_FILES.every((name) => existsSync(join(shipped, name)))) return shipped;
  try {
    const pack = createRequire(import.meta.url).resolve("dejavu-fonts-ttf/package.json");
    return join(dirname(pack), "ttf");
  } catch (error) {
    throw new NoTypesetter("its fonts are neither beside the program nor in the package dejavu-fonts-ttf", {
      cause: error,
    });
  }
}
