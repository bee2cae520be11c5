/** What goes with every verdict, whatever it says. */
export const CAUTIONS: readonly string[] = [
  "Hundreds of amperes flow in such a line: hot metal, burns, fire, thrown sparks. Take rings and watches off.",
  "Capacitors stay charged after switching off; discharge them through a resistor and measure before touching.",
  "A battery cannot be switched off: it feeds a short circuit until a fuse opens. Disconnect it first, cover its terminals, keep sparks away from its gases.",
  "First test of any protector: from a current-limited source into a dummy load, never with the radio on it.",
  "Local codes and licensed practice come first; what stands here replaces neither.",
  "A verdict is a model's, with its limits: no remote sense, no return current through coax shields, no reverse polarity, no radio-frequency fields.",
];
