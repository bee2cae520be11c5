/** A short line with a crowbar, and spreads of its values. */
export function scattered(tolerances: readonly string[], runFor = "3 ms"): string {
  const spreads = tolerances.length === 0 ? "" : `tolerances:\n${tolerances.map((line) => `  ${line}\n`).join("")}`;
  return `${LINE.replace("3 ms", runFor)}${spreads}`;
}

const LINE = `title: scattered
question: Is it safe?
fault at: 0.1 ms
run for: 3 ms
sources:
  - name: station supply
    part: switch-mode supply 30 A, constant current
    fault: {kind: lost feedback, ceiling voltage: 20 V, slew: 8 V/ms}
    lead: {length: 1.5 m, area: 4 mm2}
main fuse: blade fuse 15 A
crowbar: {part: SCR 55 A, trip voltage: 15 V, sense filter: 40 us}
loads:
  - name: relay radio
    part: 100 W radio
    limits: {withstand: parts rated 16 V}
    lead: {length: 1 m, area: 4 mm2}
`;

/** Spreads under which some samples endanger the load and others do not, and no short way to the values is open (the temperature). */
export const SPREADS = [
  "ambient: -20…50 °C",
  "crowbar.trip voltage: 14.9…16.2 V",
  "crowbar.sense filter: ±20 %",
  "relay radio.input capacitance: -20…+80 %",
];
