// The check "types": every file of the project and every notebook's code, told with the file and line where it stands.
import { checkProject } from "./cell-types.ts";
import { readNotebooks } from "./notebook.ts";
import { pagesFolder } from "./paths.ts";

try {
  const notebooks = readNotebooks(pagesFolder);
  const complaints = checkProject(notebooks);
  for (const { file, line, column, message } of complaints) console.log(`${file}:${line}:${column} - ${message}`);
  const cells = notebooks.reduce((sum, each) => sum + each.cells.length, 0);
  console.log(`all files, and ${cells} cells of ${notebooks.length} notebooks: ${complaints.length} complaints`);
  process.exitCode = complaints.length > 0 ? 1 : 0;
} catch (error) {
  console.log((error as Error).message);
  process.exitCode = 1;
}
