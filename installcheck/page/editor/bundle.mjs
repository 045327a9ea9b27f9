// Makes ../static/editor.js and its licences: `npm ci && npm run bundle`. What it was made from is told on its first line.
import { build } from "esbuild";
import { createHash } from "node:crypto";
import { existsSync, readdirSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";

const made = createHash("sha256");
for (const name of ["editor.mjs", "package-lock.json"]) made.update(readFileSync(name));
const { metafile } = await build({
  entryPoints: ["editor.mjs"], bundle: true, minify: true, format: "esm", target: "es2022", metafile: true,
  outfile: "../static/editor.js", banner: { js: `/* made of editor.mjs and package-lock.json, sha256 ${made.digest("hex")} */` },
});

const packages = new Set();
for (const input of Object.keys(metafile.inputs)) {
  const found = /^node_modules\/((?:@[^/]+\/)?[^/]+)\//.exec(input);
  if (found) packages.add(found[1]);
}
const told = [...packages].sort().map((name) => {
  const folder = join("node_modules", name);
  const { version, license } = JSON.parse(readFileSync(join(folder, "package.json")));
  const file = readdirSync(folder).find((one) => /^licen[cs]e/i.test(one));
  const text = file && existsSync(join(folder, file)) ? readFileSync(join(folder, file), "utf8").trim() : "";
  return `${name} ${version}, ${license}\n\n${text}\n`;
});
writeFileSync("../static/editor-licences.txt", told.join("\n----------\n\n"));
