import type { Command } from "../command.ts";
import { backup } from "../service/backup.ts";
import { desk } from "../service/desk.ts";
import { fleet } from "../service/fleet.ts";
import { restore } from "../service/restore.ts";
import { token } from "../service/token.ts";
import { advise } from "./advise.ts";
import { assess } from "./assess.ts";
import { calendar } from "./calendar.ts";
import { coverage } from "./coverage.ts";
import { demo } from "./demo.ts";
import { explain } from "./explain.ts";
import { helpFor } from "./help.ts";
import { history } from "./history.ts";
import { historySimulate } from "./history-simulate.ts";
import { locate } from "./locate.ts";
import { loop } from "./loop.ts";
import { notice } from "./notice.ts";
import { paper } from "./paper.ts";
import { prove } from "./prove.ts";
import { rules } from "./rules.ts";
import { schema } from "./schema.ts";
import { simulate } from "./simulate.ts";
import { verify } from "./verify.ts";

const working: readonly Command[] = [
  advise,
  assess,
  notice,
  coverage,
  loop,
  prove,
  paper,
  verify,
  calendar,
  locate,
  simulate,
  history,
  historySimulate,
  desk,
  token,
  backup,
  restore,
  fleet,
  rules,
  schema,
  explain,
  demo,
];

/** Every command, in the order of the help page. */
export const commands: readonly Command[] = [...working, helpFor(working)];
