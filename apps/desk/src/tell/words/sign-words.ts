import type { SignKind } from "@earthbell/model";

/** What a sign is called and what it means, for an owner and for somebody of the trade. */
interface SignWords {
  readonly owner: string;
  readonly trade: string;
}

export const SIGN_WORDS: Readonly<Record<SignKind, SignWords>> = {
  "earth-fault-bit": {
    owner:
      "The solar system reports an earth fault: current may leak from its cables or panels to metal parts.",
    trade: "The inverter reports an earth fault. It does not say where, or whether it is the first.",
  },
  "insulation-low": {
    owner: "The insulation of the panels and their cables is too weak: metal parts may become live.",
    trade: "The insulation resistance of everything between array and earth is below the threshold in force.",
  },
  "residual-trip": {
    owner: "The solar system switched off because current leaked to earth.",
    trade: "The residual-current monitor has tripped while the array was feeding in.",
  },
  "dawn-recurring": {
    owner: "A fault shows again and again in the morning and goes away by itself. It is not repaired.",
    trade: "The fault comes back by dawn on several mornings of the week, which points to moisture.",
  },
  "insulation-drifting": {
    owner: "The insulation gets weaker from week to week. It is not below its limit yet.",
    trade: "The recent level of the insulation has fallen well below the level of the weeks before.",
  },
  "detector-stuck": {
    owner: "The instrument that would find a fault shows the same value day after day. It may be broken.",
    trade:
      "Same insulation to the digit on several days: the detector, or what reads it, is taken for stuck.",
  },
  "detector-silent": {
    owner:
      "The solar system has not reported its daily insulation check. While that lasts a fault can go unseen.",
    trade: "No insulation check was heard this morning: device off, link down, or the check does not run.",
  },
  "path-silent": {
    owner: "One of the ways by which you would be told of a fault gives no sign of life.",
    trade: "The path gives no sign of life, or one of its people cannot be reached. A fault may not be told.",
  },
  "drill-missed": {
    owner: "A rehearsal of the alarm was not answered. The message of a real fault might not be read either.",
    trade:
      "A drill of the path was not answered in time, or a beacon in which it ends was not seen to burn: the path is not proven until a drill is passed.",
  },
};
