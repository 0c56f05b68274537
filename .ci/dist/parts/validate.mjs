// node validate.mjs FILE ...: are these lists of parts what CycloneDX 1.6 allows, and is
// anything in them?
import { readFile } from "node:fs/promises";
import { Spec, Validation } from "@cyclonedx/cyclonedx-library";

const validator = new Validation.JsonStrictValidator(Spec.Version.v1dot6);
for (const file of process.argv.slice(2)) {
	const text = await readFile(file, "utf8");
	const fault = await validator.validate(text);
	if (fault !== null) {
		console.error(file, JSON.stringify(fault, null, "\t"));
		process.exit(1);
	}
	const parts = JSON.parse(text).components ?? [];
	if (!parts.some((part) => part.name === "std")) {
		console.error(file, "does not list the library of the language");
		process.exit(1);
	}
	console.log(`${file.split("/").slice(-1)}: ${parts.length} parts`);
}
if (process.argv.length < 3) {
	console.error("no lists of parts");
	process.exit(1);
}
