// Judges models by a JSON Schema with ajv, a validator that is not ours.
//
//   node check.mjs SCHEMA MANIFEST
//
// MANIFEST is a JSON list of {"name", "text", "passes"}: what a model is called, the model, and whether the
// schema must accept it. A text that is no YAML counts as refused. Prints every model that is not judged as
// it must be; exit code 0 if there is none, 1 if there is, 2 if the schema itself is faulty.
import { readFileSync } from "node:fs";
import Ajv from "ajv";
import { parseDocument } from "yaml";

const [schemaFile, manifestFile] = process.argv.slice(2);
const ajv = new Ajv({ strict: true, allowUnionTypes: true, strictTypes: false, strictRequired: false, allErrors: true });
let judge;
try {
  judge = ajv.compile(JSON.parse(readFileSync(schemaFile, "utf8")));
} catch (problem) {
  console.log(`the schema is faulty: ${problem.message}`);
  process.exit(2);
}

function refusal(text) {
  const document = parseDocument(text);
  if (document.errors.length > 0) return `no YAML: ${document.errors[0].message.split("\n")[0]}`;
  if (judge(document.toJS())) return null;
  return judge.errors.map((e) => `${e.instancePath} ${e.message} ${JSON.stringify(e.params)}`).slice(0, 8).join("; ");
}

let wrong = 0;
const models = JSON.parse(readFileSync(manifestFile, "utf8"));
for (const { name, text, passes } of models) {
  const why = refusal(text);
  if ((why === null) === passes) continue;
  wrong += 1;
  console.log(passes ? `${name}: should pass, but ${why}` : `${name}: should be refused, but passes`);
}
console.log(`${models.length} models judged, ${wrong} wrongly`);
process.exit(wrong === 0 && models.length > 0 ? 0 : 1);
