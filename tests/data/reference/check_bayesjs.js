// Compares the stored answers of the small networks with the junction tree of bayesjs (npm, 0.6.5).
//
//   npm install bayesjs@0.6.5      somewhere, then
//   NODE_PATH=somewhere/node_modules node check_bayesjs.js
//
// bayesjs knows nothing of noisy-OR: every table is written out in full.
"use strict";
const fs = require("fs");
const path = require("path");
const bayesjs = require("bayesjs");

const networks = JSON.parse(fs.readFileSync(path.join(__dirname, "bn2o_open.json"), "utf8")).networks;

function rootNode(id, prior) {
  return { id, states: ["T", "F"], parents: [], cpt: { T: prior, F: 1 - prior } };
}

function findingNode(finding) {
  const parents = Object.keys(finding.links);
  if (parents.length === 0) return rootNode(finding.id, finding.leak);
  const cpt = [];
  for (let row = 0; row < 2 ** parents.length; ++row) {
    const when = {};
    let absent = 1 - finding.leak;
    parents.forEach((parent, i) => {
      const on = ((row >> i) & 1) === 1;
      when[parent] = on ? "T" : "F";
      if (on) absent *= 1 - finding.links[parent];
    });
    cpt.push({ when, then: { T: 1 - absent, F: absent } });
  }
  return { id: finding.id, states: ["T", "F"], parents, cpt };
}

function check(network, oneCase) {
  const nodes = {};
  for (const cause of network.causes) nodes[cause.id] = rootNode(cause.id, cause.prior);
  // An unanswered finding is a leaf and changes nothing; leaving it out keeps the trees small.
  for (const finding of network.findings) {
    if (finding.id in oneCase.evidence) nodes[finding.id] = findingNode(finding);
  }
  const given = {};
  for (const [id, state] of Object.entries(oneCase.evidence)) given[id] = state === "present" ? "T" : "F";
  let worst = 0;
  for (const [cause, stored] of Object.entries(oneCase.posterior)) {
    const found = bayesjs.inferences.junctionTree.infer(nodes, { [cause]: "T" }, given);
    worst = Math.max(worst, Math.abs(found - stored));
  }
  return worst;
}

// The joint tables of more causes than this take minutes.
const mostCauses = Number(process.argv[2] || 10);
let worst = 0;
let cases = 0;
for (const network of networks.filter((n) => n.causes.length <= mostCauses)) {
  for (const oneCase of network.cases) {
    worst = Math.max(worst, check(network, oneCase));
    ++cases;
  }
}
console.log(`${cases} cases, largest difference ${worst.toExponential(1)}`);
process.exit(worst > 1e-11 ? 1 : 0);
