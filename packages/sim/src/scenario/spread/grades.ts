/** What is bought under a name: its spread, and its drift, each as a share of the value. */
export interface Grade {
  readonly name: string;
  readonly low: number;
  readonly high: number;
  /** To either side, for each kelvin; 0: none told. */
  readonly drift: number;
  readonly source: string;
}

const even = (name: string, share: number, drift: number, source: string): Grade => ({
  name,
  low: -share,
  high: share,
  drift,
  source,
});

const resistor = (percent: number, ppm: number): Grade =>
  even(`resistor ${percent} %`, percent / 100, ppm * 1e-6, `common practice: ${ppm} ppm/K is usual for this grade`);

// The sheet gives the whole deviation over a range and no curve: here a straight line over the longer way from 25 °C.
const DEVIATION = 14e-3 / 2.495 / 65;

const reference = (percent: number): Grade =>
  even(
    `shunt reference ${percent} %`,
    percent / 100,
    DEVIATION,
    "published: TI SLVS543 sheet, grade at 25 °C and 14 mV over −40 to 85 °C",
  );

/** Names that may stand after the word `grade`. */
export const grades: readonly Grade[] = [
  resistor(5, 200),
  resistor(2, 100),
  resistor(1, 100),
  resistor(0.5, 50),
  resistor(0.1, 25),
  reference(2),
  reference(1),
  reference(0.5),
  even("electrolytic capacitor", 0.2, 0, "common practice: ±20 % as bought"),
];
