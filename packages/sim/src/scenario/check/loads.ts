import { formatQuantity } from "../../units/index.ts";
import type { Path } from "../keys.ts";
import type { Sheet } from "../sheet.ts";
import type { Load, Scenario } from "../types.ts";

export function checkLoads(sheet: Sheet, scenario: Scenario): void {
  scenario.loads.forEach((load, index) => {
    checkLoad(sheet, load, ["loads", index]);
  });
}

function checkLoad(sheet: Sheet, load: Load, path: Path): void {
  const { limits, dropOut } = load;
  if (limits.minimum >= limits.maximum) {
    sheet.error("not-below", [...path, "limits", "minimum"], "The minimum must lie below the maximum.", {
      allowed: `less than ${formatQuantity(limits.maximum, "voltage", { digits: 4 })}`,
    });
  }
  if (dropOut !== null && dropOut.returnVoltage <= dropOut.voltage) {
    sheet.error(
      "not-above",
      [...path, "drop out", "return voltage"],
      "The load must come back at a higher voltage than it drops out at.",
      { allowed: `more than ${formatQuantity(dropOut.voltage, "voltage")}` },
    );
  }
  if (load.kind === "lamp" && load.coldTemperature >= load.nominalTemperature) {
    sheet.error("not-below", [...path, "cold temperature"], "The cold filament must be colder than the hot one.", {
      allowed: `less than ${formatQuantity(load.nominalTemperature, "absolute temperature")}`,
    });
  }
}
