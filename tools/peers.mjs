// The independent programs that checks/ compares with. They are peers, not parts: nothing of them is shipped.
import { existsSync } from "node:fs";

const packages = [
  ...["ngspice", "python3", "python3-numpy", "python3-scipy"],
  // The desk's peers: a broker, a Modbus server (with what it imports) and a mail server.
  ...["mosquitto", "python3-pymodbus", "python3-serial", "python3-serial-asyncio", "python3-aiosmtpd"],
  // Independent readers of papers, and the browser of the end-to-end tests.
  ...["openssl", "poppler-utils", "qpdf", "python3-openpyxl", "python3-icalendar", "chromium"],
];
const install = `apt-get install -y --no-install-recommends ${packages.join(" ")}`;

/**
 * Finds the peers, or installs them when run as root on Debian.
 * `run(command, args)` resolves to { status, output }.
 */
export async function ensurePeers(run) {
  const before = await missingPeers(run);
  if (before.length === 0) return { status: 0, output: "" };
  const mayInstall = process.getuid?.() === 0 && existsSync("/usr/bin/apt-get");
  if (!mayInstall) return refuse(before, `install them as root: apt-get update && ${install}`);
  const steps = [];
  for (const step of ["apt-get update", `DEBIAN_FRONTEND=noninteractive ${install}`])
    steps.push(await run("sh", ["-c", step]));
  const after = await missingPeers(run);
  if (after.length === 0) return { status: 0, output: "" };
  return refuse(after, steps.map((step) => step.output).join("\n"));
}

function refuse(missing, note) {
  return { status: 1, output: `missing: ${missing.join(", ")}\n${note}` };
}

async function missingPeers(run) {
  const peers = [
    ["ngspice", "ngspice", ["--version"]],
    ["numpy and scipy for /usr/bin/python3", "/usr/bin/python3", ["-c", "import numpy, scipy"]],
    [
      "pymodbus and aiosmtpd for /usr/bin/python3",
      "/usr/bin/python3",
      ["-c", "import pymodbus.server, aiosmtpd.smtp"],
    ],
    ["mosquitto", "sh", ["-c", "PATH=$PATH:/usr/sbin command -v mosquitto"]],
    ["openssl", "openssl", ["version"]],
    ["poppler-utils", "pdftotext", ["-v"]],
    ["qpdf", "qpdf", ["--version"]],
    ["openpyxl and icalendar for /usr/bin/python3", "/usr/bin/python3", ["-c", "import openpyxl, icalendar"]],
    ["chromium", "chromium", ["--version", "--no-sandbox"]],
  ];
  const missing = [];
  for (const [name, command, args] of peers) if ((await run(command, args)).status !== 0) missing.push(name);
  return missing;
}
