import type { AnnunciatorPath } from "../assess/site.ts";
import type { Remark } from "./judgement.ts";
import { judgeLight } from "./judge-light.ts";
import { judgeSound } from "./sound.ts";

/** Who is within reach, when, and whether what the load gives out reaches them. */
export function judgeListener(path: AnnunciatorPath): readonly Remark[] {
  const { listener } = path;
  if (listener === undefined || listener.present === undefined) {
    const what = listener === undefined ? "Who is meant to hear it" : "When anybody is within reach";
    const text = `${what} is not stated, so whether the alarm reaches a person cannot be judged. Record distance, what stands between, ambient sound and hours of presence.`;
    const remark: Remark = { code: "PATH_LISTENER_UNKNOWN", text };
    return listener === undefined ? [remark] : [remark, ...reach(path, listener)];
  }
  const present = listener.present.some((span) => span.toMinute > span.fromMinute);
  if (!present) {
    const text =
      "Nobody is ever within reach of the annunciator. Move it to where people are, or use a message.";
    return [{ code: "PATH_LISTENER_ABSENT", text }, ...reach(path, listener)];
  }
  return reach(path, listener);
}

function reach(path: AnnunciatorPath, listener: NonNullable<AnnunciatorPath["listener"]>): readonly Remark[] {
  const kind = path.loop?.load?.kind;
  if (kind === undefined || kind === "sounder") return judgeSound(path, listener);
  if (kind === "beacon" || kind === "lamp") return judgeLight(path.loop?.load?.light, listener);
  const text = `The load is a ${kind}; what of it reaches a person is not on record, so it cannot be judged. Record the sounder or beacon that a person meets, or prove it by a drill.`;
  return [{ code: "PATH_LOAD_SILENT", text }];
}
