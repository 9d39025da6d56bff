// Opens models in a real YAML language server, over its own protocol, as an editor does.
//
//   node drive.mjs SERVER MANIFEST
//
// MANIFEST is a JSON list of {"name", "file", "text", "clean", "offers"}: a model, where it lies (its first line
// names the schema), whether it must be clean (true), marked (false) or either (null), and a list of
// {"line", "character", "labels"}: what must be offered for completion at a place. Prints what is not as it
// must be; exit code 0 if nothing is.
import { spawn } from "node:child_process";
import { readFileSync } from "node:fs";
import { pathToFileURL } from "node:url";

const [serverFile, manifestFile] = process.argv.slice(2);
const server = spawn("node", [serverFile, "--stdio"], { stdio: ["pipe", "pipe", "ignore"] });
const waiting = new Map();
const diagnostics = new Map();
let heard = Buffer.alloc(0);
let next = 1;

function write(message) {
  const body = Buffer.from(JSON.stringify({ jsonrpc: "2.0", ...message }));
  server.stdin.write(`Content-Length: ${body.length}\r\n\r\n`);
  server.stdin.write(body);
}
const tell = (method, params) => write({ method, params });
const ask = (method, params) =>
  new Promise((answer) => {
    waiting.set(next, answer);
    write({ id: next++, method, params });
  });

function hear(message) {
  if (message.id !== undefined && message.method) {
    // The server asks back for settings, or for files it would like an editor to fetch.
    const settings = message.method === "workspace/configuration" ? message.params.items.map(() => null) : null;
    return write({ id: message.id, result: settings });
  }
  if (message.id !== undefined) return waiting.get(message.id)?.(message.result);
  if (message.method === "textDocument/publishDiagnostics")
    diagnostics.get(message.params.uri)?.(message.params.diagnostics);
}

server.stdout.on("data", (piece) => {
  heard = Buffer.concat([heard, piece]);
  for (;;) {
    const end = heard.indexOf("\r\n\r\n");
    if (end < 0) return;
    const length = Number(/Content-Length: (\d+)/i.exec(heard.subarray(0, end).toString())[1]);
    if (heard.length < end + 4 + length) return;
    const message = JSON.parse(heard.subarray(end + 4, end + 4 + length).toString());
    heard = heard.subarray(end + 4 + length);
    hear(message);
  }
});

await ask("initialize", {
  processId: process.pid,
  rootUri: null,
  capabilities: {
    textDocument: { completion: { completionItem: { snippetSupport: false } }, publishDiagnostics: {} },
    workspace: { configuration: true },
  },
});
tell("initialized", {});
tell("workspace/didChangeConfiguration", {
  settings: { yaml: { validate: true, completion: true, schemaStore: { enable: false } } },
});

let wrong = 0;
function fault(name, what) {
  wrong += 1;
  console.log(`${name}: ${what}`);
}

const models = JSON.parse(readFileSync(manifestFile, "utf8"));
for (const { name, file, text, clean, offers } of models) {
  const uri = pathToFileURL(file).href;
  const found = new Promise((answer) => diagnostics.set(uri, answer));
  tell("textDocument/didOpen", { textDocument: { uri, languageId: "yaml", version: 1, text } });
  const said = (await found).map((d) => d.message);
  for (const message of said) {
    if (/unable to load schema/i.test(message)) fault(name, message);
    if (/matches a schema that is not allowed/i.test(message)) fault(name, message);
  }
  if (clean && said.length > 0) fault(name, `should be clean, but: ${said.join("; ")}`);
  if (clean === false && said.length === 0) fault(name, "should be marked, but is not");
  for (const { line, character, labels } of offers ?? []) {
    const list = await ask("textDocument/completion", { textDocument: { uri }, position: { line, character } });
    const offered = (list.items ?? list ?? []).map((item) => item.label);
    for (const label of labels)
      if (!offered.includes(label))
        fault(name, `line ${line + 1} should offer ${label}, but offers: ${offered.slice(0, 12).join(", ")}`);
  }
}
console.log(`${models.length} models opened, ${wrong} faults`);
server.kill();
process.exit(wrong === 0 && models.length > 0 ? 0 : 1);
