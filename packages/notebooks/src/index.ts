/** Public face of the notebooks: what a cell may import. */
export {};
