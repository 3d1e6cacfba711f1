import { readSite } from "./src/index.ts";
// @ts-ignore
import { siteText } from "/tmp/m/gen.mjs";
import { parse } from "yaml";
const run = (n: string, t: string, o = {}) => {
  const t0 = performance.now();
  const r = readSite(t, "x", o);
  console.log(
    n,
    t.length,
    (performance.now() - t0).toFixed(0) + "ms",
    r.ok ? "ok" : r.faults.length + " " + r.faults[0]!.code + " " + r.faults.at(-1)!.message,
    ((process.resourceUsage().maxRSS / 1024) | 0) + "MB",
  );
};
const which = process.argv[2];
if (which === "ok") {
  run("1000", siteText(1000));
  run("10000", siteText(10000));
}
if (which === "json") {
  const j = JSON.stringify(parse(siteText(1)));
  console.log(j.length);
  const t0 = performance.now();
  for (let i = 0; i < 10000; i++) readSite(j, "x");
  console.log("10000 lines", performance.now() - t0);
}
if (which === "bad") run("10000 bad", siteText(10000).replaceAll("10 kVA", "10 kW"));
if (which === "l1") run("list", '{"format":"earthbell.site/1","arrays":[' + "1,".repeat(1 << 21) + "1]}");
if (which === "l2")
  run("list", '{"format":"earthbell.site/1","arrays":[{"strings":[' + "1,".repeat(1 << 21) + "1]}]}");
if (which === "l3")
  run("list", '{"format":"earthbell.site/1","arrays":[' + "{},".repeat(1.3 * (1 << 20)) + "1]}");
if (which === "l4") run("list", "format: earthbell.site/1\narrays:\n" + "- 1\n".repeat(1 << 20) + "");
if (which === "l5")
  run(
    "list",
    '{"format":"earthbell.site/1","arrays":[' +
      ('{"strings":[' + "{},".repeat(4998) + "{}]},").repeat(540) +
      "1]}",
  );
if (which === "l6") run("list", '{"format":"earthbell.site/1","arrays":[' + "{},".repeat(49998) + "{}]}");
if (which === "none") {
}
if (which === "l7")
  run(
    "dup ids",
    '{"format":"earthbell.site/1","arrays":[' +
      ('{"strings":[' + '{"id":"a"},'.repeat(4998) + "{}]},").repeat(150) +
      "1]}",
  );
