/** With how many decimals a number is written, at most fifteen. */
export const decimalsOf = (value: number): number => Math.min(15, String(value).split('.')[1]?.length ?? 0);
