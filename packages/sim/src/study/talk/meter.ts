/** As a meter shows it: two decimals, none of them lost. */
export const volts = (value: number): string => `${asShown(value)} V`;
export const amperes = (value: number): string => `${asShown(value)} A`;

const asShown = (value: number): string => (Math.abs(value) < 0.005 ? 0 : value).toFixed(2);
