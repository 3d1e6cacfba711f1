import { existsSync, readFileSync } from "node:fs";
import { createRequire } from "node:module";
import { fileURLToPath } from "node:url";
import type { PictureCodecs, Pixels } from "@earthbell/papers";
import unpackJpeg, { init as startUnpackJpeg } from "@jsquash/jpeg/decode.js";
import packJpeg, { init as startPackJpeg } from "@jsquash/jpeg/encode.js";
import unpackPng, { init as startUnpackPng } from "@jsquash/png/decode.js";
import unpackWebp, { init as startUnpackWebp } from "@jsquash/webp/decode.js";

/** Where each codec lies in its package; beside the bundled program they lie in `codecs/` by their last name. */
const JPEG_IN = "@jsquash/jpeg/codec/dec/mozjpeg_dec.wasm";
const JPEG_OUT = "@jsquash/jpeg/codec/enc/mozjpeg_enc.wasm";
const PNG_IN = "@jsquash/png/codec/pkg/squoosh_png_bg.wasm";
const WEBP_IN = "@jsquash/webp/codec/dec/webp_dec.wasm";
/** Of 100. */
const QUALITY = 75;
/** What the decoder says of a file that was cut short: it would go on with grey. */
const CUT_SHORT = "Premature end";

const modules = new Map<string, object>();

/**
 * Codecs of pictures as WebAssembly: what a damaged picture does, it does within its own memory, and every machine gives the same
 * bytes. Those of JPEG and WebP start anew, with memory of their own.
 */
export async function openCodecs(): Promise<PictureCodecs> {
  const said: string[] = [];
  const hears = { print: () => undefined, printErr: (line: string) => said.push(line) };
  await startUnpackJpeg(...started(JPEG_IN, hears));
  await startPackJpeg(...started(JPEG_OUT, hears));
  await startUnpackWebp(...started(WEBP_IN, hears));
  await startUnpackPng(moduleOf(PNG_IN));
  return {
    unpack: async (kind, bytes) => {
      said.length = 0;
      const own = new Uint8Array(bytes).buffer;
      if (kind === "image/png") return (await unpackPng(own)) as Pixels;
      if (kind === "image/webp") return (await unpackWebp(own)) as Pixels;
      const picture = (await unpackJpeg(own, { preserveOrientation: true })) as Pixels;
      if (said.some((line) => line.includes(CUT_SHORT))) throw new Error(CUT_SHORT);
      return picture;
    },
    jpeg: async ({ data, width, height }) => {
      const picture = { data: new Uint8ClampedArray(data), width, height, colorSpace: "srgb" } as const;
      return new Uint8Array(await packJpeg(picture, { quality: QUALITY }));
    },
  };
}

/** What the global of that name offers; the types of Node leave it out. */
interface WasmHost {
  readonly Module: new (bytes: Uint8Array) => object;
  readonly Instance: new (module: object, imports: object) => { readonly exports: object };
}
const { Module, Instance } = (globalThis as unknown as { readonly WebAssembly: WasmHost }).WebAssembly;

function started(path: string, hears: object): [object] {
  const instantiateWasm = (imports: object, done: (made: object) => void): object => {
    const made = new Instance(moduleOf(path), imports);
    done(made);
    return made.exports;
  };
  return [{ instantiateWasm, ...hears }];
}

function moduleOf(path: string): object {
  const known = modules.get(path);
  if (known !== undefined) return known;
  const shipped = fileURLToPath(new URL(`codecs/${path.slice(path.lastIndexOf("/") + 1)}`, import.meta.url));
  const from = existsSync(shipped) ? shipped : createRequire(import.meta.url).resolve(path);
  const made = new Module(readFileSync(from));
  modules.set(path, made);
  return made;
}
