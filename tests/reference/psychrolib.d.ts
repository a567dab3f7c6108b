declare module 'psychrolib' {
  interface Psychrolib {
    readonly SI: unknown;
    SetUnitSystem(system: unknown): void;
    GetSatVapPres(tDryBulb: number): number;
    GetHumRatioFromRelHum(tDryBulb: number, relHum: number, pressure: number): number;
    GetMoistAirEnthalpy(tDryBulb: number, humRatio: number): number;
    GetMoistAirVolume(tDryBulb: number, humRatio: number, pressure: number): number;
    GetTDewPointFromRelHum(tDryBulb: number, relHum: number): number;
    GetTWetBulbFromRelHum(tDryBulb: number, relHum: number, pressure: number): number;
    GetStandardAtmPressure(altitude: number): number;
  }
  const psychrolib: Psychrolib;
  export default psychrolib;
}
