"""Sheet metal: what is left of each sheet, entered at the car and read against its nominal."""
