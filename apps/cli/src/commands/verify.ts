import { judgeSignature, readSignature, type SignatureVerdict } from "@earthbell/papers";
import type { InputFault } from "@earthbell/model";
import type { Call, Command } from "../command.ts";
import { type ExitStatus, exitStatus } from "../exit-status.ts";
import { readWhole } from "../input/source.ts";
import { publicKeyOf, verifierOf } from "../paper/signing-key.ts";
import { faultsText } from "../views/faults-text.ts";
import { keyUnreadable } from "./paper.ts";

/** A register of many arrays as PDF is the largest file that is signed. */
const MOST_BYTES = 256 * 1024 * 1024;

export const verify: Command = {
  name: "verify",
  summary: "check that a paper is as it was signed, and by whom",
  operands: { shape: "FILE…", least: 1, most: Infinity, what: "a signed file" },
  options: [
    {
      name: "key",
      value: "FILE",
      repeatable: true,
      help: "a public key you have from its owner (PEM); none makes every key unknown",
    },
    { name: "json", help: "print JSON for programs instead of a page" },
  ],
  description: [
    "The signature is looked for beside the file, in FILE.sig. The answer is valid, altered, or unknown key: the file is as it was signed, but by a key you did not name.",
    "A key that came with the paper proves nothing. Take it from the signer.",
  ],
  example: {
    line: "earthbell verify papers/owner-notice-creamery-1.pdf --key signer.pem",
    shows: "Whether the notice is the one that the signer made.",
  },
  statuses: [
    { status: 0, when: "every file is valid" },
    { status: 2, when: "a file is altered, signed by an unknown key, not signed, or cannot be read" },
    { status: 1, when: "a bug of this program, or the output could not be written" },
  ],
  run: runVerify,
};

async function runVerify(call: Call): Promise<ExitStatus> {
  const { arguments: given, complain, page } = call;
  const known: string[] = [];
  for (const file of given.values("key")) {
    const pem = await readWhole(file, { world: call.world, most: 65_536 });
    const key = "code" in pem ? pem : publicKeyOf(Buffer.from(pem).toString());
    if (typeof key !== "string") {
      await complain(faultsText([key ?? keyUnreadable(file)], page));
      return exitStatus.wrongInput;
    }
    known.push(key);
  }
  let status: ExitStatus = exitStatus.made;
  for (const file of given.operands) {
    const verdict = await verdictOf(file, known, call);
    await tell(file, verdict, call);
    if (verdict !== "valid") status = exitStatus.wrongInput;
  }
  return status;
}

async function verdictOf(
  file: string,
  known: readonly string[],
  { world }: Call,
): Promise<SignatureVerdict | InputFault> {
  const bytes = await readWhole(file, { world, most: MOST_BYTES });
  if ("code" in bytes) return bytes;
  const beside = await readWhole(`${file}.sig`, { world, most: 65_536 });
  const signature = "code" in beside ? null : readSignature(Buffer.from(beside).toString());
  if (signature !== null) return judgeSignature(signature, known, verifierOf(bytes));
  return faultOf(`${file}.sig`, "PAPER_SIGNATURE_MISSING", "There is no signature that can be read.");
}

const SAID: Readonly<Record<SignatureVerdict, string>> = {
  valid: "valid: it is as it was signed, by a key you named",
  altered: "altered: it is not as it was signed",
  "unknown-key": "unknown key: it is as it was signed, by a key you did not name",
};

async function tell(file: string, verdict: SignatureVerdict | InputFault, call: Call): Promise<void> {
  const asJson = call.arguments.has("json");
  if (typeof verdict !== "string") {
    if (asJson)
      await call.world.out.write(
        `${JSON.stringify({ file, verdict: "cannot-check", code: verdict.code })}\n`,
      );
    await call.complain(faultsText([verdict], call.page));
    return;
  }
  if (asJson) await call.world.out.write(`${JSON.stringify({ file, verdict })}\n`);
  else await call.print([`${file}: ${SAID[verdict]}`]);
  const code = verdict === "altered" ? "PAPER_FILE_ALTERED" : "PAPER_KEY_UNKNOWN";
  if (verdict !== "valid")
    await call.complain(faultsText([faultOf(file, code, `${SAID[verdict]}.`)], call.page));
}

function faultOf(file: string, code: string, message: string): InputFault {
  return { code, file, line: null, column: null, field: "", value: null, allowed: "", message };
}
