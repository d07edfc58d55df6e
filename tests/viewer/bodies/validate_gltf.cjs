// Prints what Khronos's validator says of each file that is named, as a JSON list.
const fs = require("fs");
const { validateBytes } = require("gltf-validator");

Promise.all(process.argv.slice(2).map((path) => validateBytes(new Uint8Array(fs.readFileSync(path)))))
  .then((reports) => console.log(JSON.stringify(reports.map((report) => report.issues))));
