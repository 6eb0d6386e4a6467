// Solves an LP file with the npm package highs (a WebAssembly build of HiGHS)
// and prints status, objective and the CPU seconds of the solve alone, without
// loading the module: node highs.mjs FILE SECONDS
import { readFileSync } from "node:fs";
import load from "highs";

const [file, limit] = process.argv.slice(2);
const highs = await load();
const text = readFileSync(file, "utf8");
const before = process.cpuUsage();
const { Status, ObjectiveValue } = highs.solve(text, { time_limit: Number(limit), mip_rel_gap: 0, mip_abs_gap: 0.5 });
const used = process.cpuUsage(before);
console.log(JSON.stringify({ status: Status, objective: ObjectiveValue, cpu: (used.user + used.system) / 1e6 }));
