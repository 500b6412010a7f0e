// Prints what Khronos's glTF validator finds in files, hints among it; status 1 where it finds anything.
import { readFileSync } from "node:fs";
import { validateBytes } from "gltf-validator";

for (const path of process.argv.slice(2)) {
  const { issues } = await validateBytes(new Uint8Array(readFileSync(path)));
  for (const issue of issues.messages) {
    console.log(`${path}: ${issue.code} ${issue.pointer ?? issue.offset}: ${issue.message}`);
    process.exitCode = 1;
  }
}
