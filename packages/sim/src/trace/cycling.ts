/** Whether something that began at these times repeats itself: at least three times, the last two periods within 5 %. */
export function isCycling(starts: readonly number[]): boolean {
  if (starts.length < 3) return false;
  const [a, b, c] = starts.slice(-3) as [number, number, number];
  const [last, before] = [c - b, b - a];
  return Math.abs(last - before) < 0.05 * Math.max(last, before);
}
