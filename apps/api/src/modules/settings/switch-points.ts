/** The order that no pressure switch can break: it makes above where it drops out [Pa]. What is not known breaks nothing. */
export const isSwitchPossible = (setPointPa: number | null, resetPointPa: number | null): boolean =>
  setPointPa === null || resetPointPa === null || resetPointPa < setPointPa;

/** A gauge reads nothing above its span [Pa]. What is not known breaks nothing. */
export const canRead = (gaugeSpanPa: number | null, settingPa: number | null): boolean =>
  gaugeSpanPa === null || settingPa === null || settingPa <= gaugeSpanPa;
