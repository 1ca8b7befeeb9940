// Prints dew points of a grid of air temperatures and humidities, worked out by
// PsychroLib (ASHRAE's formulas, solved by iteration), as JSON rows of
// [air °C, humidity %, dew point °C]. A test in internal/trade holds the
// program's own Magnus form to them.
//
//     npm install --no-package-lock --prefix testdata/reference/node
//     node testdata/reference/psychrolib.mjs
//
// Where the package is not installed it exits with 3.
import { createRequire } from "node:module";

const require = createRequire(new URL("./node/package.json", import.meta.url));
let psychro;
try {
  psychro = require("psychrolib");
} catch {
  console.error("psychrolib is not installed");
  process.exit(3);
}
psychro.SetUnitSystem(psychro.SI);

const rows = [];
for (let air = 0; air <= 45; air += 2.5) {
  for (let humidity = 20; humidity <= 100; humidity += 5) {
    rows.push([air, humidity, psychro.GetTDewPointFromRelHum(air, humidity / 100)]);
  }
}
console.log(JSON.stringify(rows));
