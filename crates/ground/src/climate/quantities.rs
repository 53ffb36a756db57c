//! The numbers of weather and place, each with its unit and the range in which it is believable.

crate::quantity! {
    /// Latitude, north positive.
    pub struct Latitude: "latitude", "°", -90.0 ..= 90.0, example 45.0;
    /// Longitude, east positive.
    pub struct Longitude: "longitude", "°", -180.0 ..= 180.0, example -75.0;
    /// Height above the sea.
    pub struct Elevation: "elevation", "m", -430.0 ..= 5500.0, example 150.0;
    /// Day of the year, 1 January is 1.
    pub struct DayOfYear: "day of the year", "", 1.0 ..= 366.0, example 187.0;
    /// Air temperature 1.5 to 2 m above the ground.
    pub struct AirTemperature: "air temperature", "°C", -60.0 ..= 60.0, example 21.5;
    /// Temperature at which dew forms.
    pub struct DewPoint: "dew point", "°C", -70.0 ..= 40.0, example 12.0;
    /// Relative humidity of the air.
    pub struct RelativeHumidity: "relative humidity", "%", 0.0 ..= 100.0, example 63.0;
    /// Vapour pressure of the air.
    pub struct VapourPressure: "vapour pressure", "kPa", 0.0 ..= 7.5, example 1.4;
    /// Mean wind speed.
    pub struct WindSpeed: "wind speed", "m/s", 0.0 ..= 60.0, example 2.8;
    /// Height of the wind vane above the ground.
    pub struct WindHeight: "height of the wind measurement", "m", 0.5 ..= 100.0, example 10.0;
    /// Sunlight on level ground in a day.
    pub struct SolarRadiation: "solar radiation", "MJ/m²/d", 0.0 ..= 45.0, example 22.1;
    /// Hours of bright sunshine.
    pub struct Sunshine: "sunshine", "h", 0.0 ..= 24.0, example 9.25;
    /// Rain of one day.
    pub struct DailyRain: "rain", "mm", 0.0 ..= 1000.0, example 6.0;
    /// Rain of one month.
    pub struct MonthlyRain: "rain of the month", "mm", 0.0 ..= 4000.0, example 80.0;
    /// Reference evapotranspiration of one day.
    pub struct ReferenceEt: "reference evapotranspiration", "mm/d", 0.0 ..= 20.0, example 3.9;
    /// Least relative humidity of the day, stage average.
    pub struct MinimumHumidity: "least relative humidity of the day", "%", 0.0 ..= 100.0, example 45.0;
    /// First coefficient of the Ångström equation: share of the light on an overcast day.
    pub struct AngstromA: "Ångström coefficient a", "", 0.05 ..= 0.5, example 0.25;
    /// Second coefficient of the Ångström equation: what full sunshine adds to it.
    pub struct AngstromB: "Ångström coefficient b", "", 0.2 ..= 0.8, example 0.5;
}
