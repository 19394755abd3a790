/** The part of the reference library that the tests use; it ships no types. */
declare module '@lhncbc/ucum-lhc' {
  interface ConversionAnswer {
    status: string;
    toVal: number;
    msg: string[];
  }
  interface UcumLhcUtils {
    convertUnitTo(fromCode: string, value: number, toCode: string): ConversionAnswer;
  }
  const ucum: { UcumLhcUtils: { getInstance(): UcumLhcUtils } };
  export default ucum;
}
