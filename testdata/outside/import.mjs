// Imports scores with verovio, an independent reader of MusicXML, and tells
// what became of each: warnings, texts as rendered, octave lines, pitches as
// played.
//
//   node import.mjs MODULES < scores.json
//
// MODULES is the folder in which the package verovio stands. The input is an
// array of {"name", "file"}, the output an array, in the same order, of
// {"name", "loaded", "measures", "warnings": [text], "texts": [text without
// white space], "octaveLines": number, "pitches": {MIDI key: how many notes},
// "staves": [[{"head": step and octave as drawn, "key": MIDI key}]]}; the notes
// of a staff are in the order of the file.

import fs from "node:fs";
import path from "node:path";
import { pathToFileURL } from "node:url";

const modules = process.argv[2];
const part = (name) => import(pathToFileURL(path.join(modules, "verovio", "dist", name)).href);
const { default: createVerovioModule } = await part("verovio-module.mjs");
const { VerovioToolkit } = await part("verovio.mjs");

// Whatever verovio prints while a score is loaded and rendered is a warning.
// The ids in it are made anew for every score.
let printed = [];
const hear = (...words) => {
  const text = words.join(" ").trim().replace(/'[a-z][a-z0-9]*'/g, "'…'");
  if (text) printed.push(text);
};
console.log = console.info = console.warn = console.error = hear;
const verovio = await createVerovioModule({ print: hear, printErr: hear });

const entities = { lt: "<", gt: ">", amp: "&", quot: '"', apos: "'" };
const plain = (svg) =>
  svg
    .replace(/<[^>]*>/g, "")
    .replace(/&#x([0-9a-f]+);/gi, (_, hex) => String.fromCodePoint(parseInt(hex, 16)))
    .replace(/&#(\d+);/g, (_, dec) => String.fromCodePoint(Number(dec)))
    .replace(/&(lt|gt|amp|quot|apos);/g, (_, name) => entities[name])
    .replace(/\s+/g, "");

// notesByStaff reads the notes in verovio's own encoding of the score: where
// the head is drawn (oct, which an octave line sets apart from the octave that
// sounds) and which key is played.
function notesByStaff(toolkit) {
  const staves = [];
  let staff = 0;
  for (const [tag, name] of toolkit.getMEI().matchAll(/<(staff|note)\b[^>]*>/g)) {
    const attribute = (key) => tag.match(new RegExp(` ${key}="([^"]*)"`))?.[1];
    if (name === "staff") {
      staff = Number(attribute("n"));
      continue;
    }
    const on = Number(attribute("staff") ?? staff) - 1;
    while (staves.length <= on) staves.push([]);
    const { pitch } = toolkit.getMIDIValuesForElement(attribute("xml:id"));
    staves[on].push({ head: attribute("pname") + attribute("oct"), key: pitch });
  }
  return staves;
}

function look(score) {
  printed = [];
  const toolkit = new VerovioToolkit(verovio);
  toolkit.setOptions({ breaks: "none", adjustPageHeight: true, adjustPageWidth: true, footer: "none", expandNever: true });
  const loaded = toolkit.loadData(fs.readFileSync(score.file, "utf8"));
  const seen = { name: score.name, loaded: Boolean(loaded), measures: 0, texts: [], octaveLines: 0, pitches: {}, staves: [] };
  if (loaded) {
    for (let page = 1; page <= toolkit.getPageCount(); page++) {
      const svg = toolkit.renderToSVG(page);
      seen.measures += (svg.match(/class="measure\b/g) ?? []).length;
      seen.octaveLines += (svg.match(/class="octave\b/g) ?? []).length;
      for (const [, drawn] of svg.matchAll(/<g [^>]*class="(?:dir|tempo|reh)\b[^"]*"[^>]*>(.*?)<\/g>/gs)) seen.texts.push(plain(drawn));
    }
    for (const { on = [] } of toolkit.renderToTimemap({})) {
      for (const id of on) {
        const { pitch } = toolkit.getMIDIValuesForElement(id);
        seen.pitches[pitch] = (seen.pitches[pitch] ?? 0) + 1;
      }
    }
    seen.staves = notesByStaff(toolkit);
  }
  seen.warnings = printed;
  toolkit.destroy?.();
  return seen;
}

const scores = JSON.parse(fs.readFileSync(0, "utf8"));
process.stdout.write(JSON.stringify(scores.map(look)));
