/** In-place discrete Fourier transform of a length that is a power of two (Cooley and Tukey, Math. Comp. 19, 1965, 297–301). */
export function fourier(re: Float64Array, im: Float64Array): void {
  const n = re.length;
  for (let i = 1, j = 0; i < n; i++) {
    let bit = n >> 1;
    for (; (j & bit) !== 0; bit >>= 1) j ^= bit;
    j ^= bit;
    if (i < j) {
      [re[i], re[j]] = [re[j], re[i]];
      [im[i], im[j]] = [im[j], im[i]];
    }
  }
  for (let size = 2; size <= n; size *= 2) {
    const half = size / 2;
    const angle = (-2 * Math.PI) / size;
    for (let k = 0; k < half; k++) {
      const [c, s] = [Math.cos(angle * k), Math.sin(angle * k)];
      for (let i = k; i < n; i += size) {
        const j = i + half;
        const x = re[j] * c - im[j] * s;
        const y = re[j] * s + im[j] * c;
        re[j] = re[i] - x;
        im[j] = im[i] - y;
        re[i] += x;
        im[i] += y;
      }
    }
  }
}

/** The power of two that is not below. */
export function powerOfTwo(count: number): number {
  return 2 ** Math.ceil(Math.log2(Math.max(2, count)));
}
