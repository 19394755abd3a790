/** A machine without pallets clamps at one place. */
export const fitsForm = (form: string, stations: number): boolean => form !== 'single-station' || stations <= 1;
