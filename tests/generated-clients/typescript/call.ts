// Calls the service through the generated types, and holds its answers to the examples kept beside the API document.
// Arguments: the address of the service, and the folder of the examples.
import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import createClient from "openapi-fetch";
import type { components, paths } from "./vat-schemes.js";

type Schemas = components["schemas"];

interface Example<Request, Answer> {
  request: Request;
  answer: Answer;
}

const [baseUrl, examples] = process.argv.slice(2);
assert(baseUrl !== undefined && examples !== undefined, "an address and a folder are needed");
const client = createClient<paths>({ baseUrl });

function example<Request, Answer>(name: string): Example<Request, Answer> {
  return JSON.parse(readFileSync(`${examples}/${name}.json`, "utf8")) as Example<Request, Answer>;
}

// A comparison, as a whole and in the figures that a caller would show.
const quarter = example<Schemas["ComparisonRequest"], Schemas["ComparisonAnswer"]>("comparison_limited_cost_business");
const compared = await client.POST("/v1/comparisons", { body: quarter.request });
assert(compared.data !== undefined, `the comparison was refused: ${JSON.stringify(compared.error)}`);
assert.deepEqual(compared.data, quarter.answer);
assert.equal(compared.data.comparison.cheaper, quarter.answer.comparison.cheaper);
assert.equal(compared.data.standard.boxes.box5, quarter.answer.standard.boxes.box5);
assert.equal(compared.data.flat_rate.boxes.box5, quarter.answer.flat_rate.boxes.box5);

// A parameter of the query.
const brief = await client.POST("/v1/comparisons", { body: quarter.request, params: { query: { workings: false } } });
assert.deepEqual(brief.data, { ...quarter.answer, workings: [] });

// A check of the limits.
const limits = example<Schemas["ThresholdCheckRequest"], Schemas["ThresholdCheck"]>("threshold_check_of_totals");
const checked = await client.POST("/v1/threshold-checks", { body: limits.request });
assert(checked.data !== undefined, `the check was refused: ${JSON.stringify(checked.error)}`);
assert.deepEqual(checked.data, limits.answer);
assert.deepEqual(
  checked.data.act_by.map((action) => action.on),
  limits.answer.act_by.map((action) => action.on),
);

// A batch: newline-delimited JSON, which the caller writes and reads.
const batch = await client.POST("/v1/comparisons/batch", {
  body: quarter.request,
  bodySerializer: (request) => `${JSON.stringify(request)}\n`.repeat(2),
  headers: { "Content-Type": "application/x-ndjson" },
  parseAs: "text",
});
const text: string | undefined = batch.data;
assert(text !== undefined, `the batch was refused: ${JSON.stringify(batch.error)}`);
const lines = text.trimEnd().split("\n").map((line) => JSON.parse(line) as Schemas["BatchLine"]);
assert.equal(lines.length, 3);
assert.deepEqual(lines[1]?.answer?.comparison, quarter.answer.comparison);
assert.equal(lines[2]?.end?.answered, 2);

// A request that is refused: what is wrong is read through the generated type.
const sale: Schemas["Sale"] = { treatment: "standard_rated", net: "24000.005" };
const refused = await client.POST("/v1/comparisons", { body: { ...quarter.request, sales: [sale] } });
assert.equal(refused.response.status, 400);
assert.equal(refused.response.headers.get("content-type"), "application/problem+json");
const problem: Schemas["Problem"] | undefined = refused.error;
assert(problem !== undefined && problem.errors !== undefined, "no problem came back");
assert.equal(problem.status, 400);
assert.deepEqual(problem.errors.map((error) => error.pointer), ["/sales/0/net"]);

// The catalogue knows the problem's code.
const entry = await client.GET("/v1/problems/{code}", { params: { path: { code: problem.code } } });
assert.equal(entry.data?.code, problem.code);

// The types know what a line may hold: each of these is an error of types.
// @ts-expect-error an amount is a text
export const number: Schemas["Sale"] = { treatment: "standard_rated", net: 24000 };
// @ts-expect-error there is no such treatment
export const treatment: Schemas["Sale"] = { treatment: "standard", net: "24000.00" };
// @ts-expect-error a line has its treatment
export const bare: Schemas["InvoiceLine"] = { net: "24000.00" };

console.log("TypeScript: comparison, limits, batch and problem are as the examples say");
