/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A program of its own that knows the installed library only. */
#include <resinwright.h>

#include <math.h>
#include <stdio.h>
#include <string.h>

static int near(double actual, double expected, double tolerance, const char *what)
{
  if (fabs(actual - expected) <= tolerance)
    return 1;
  fprintf(stderr, "%s: %.6f, expected %.6f\n", what, actual, expected);
  return 0;
}

int main(void)
{
  char version[32];
  snprintf(version, sizeof version, "%d.%d.%d", RW_VERSION_MAJOR, RW_VERSION_MINOR,
           RW_VERSION_PATCH);
  if (strcmp(version, rw_version()) != 0) {
    fprintf(stderr, "headers of %s, library of %s\n", version, rw_version());
    return 1;
  }

  /* Degrees Celsius and Fahrenheit by definition: 91.4 degF is 33 degC is 306.15 K. */
  static const char text[] = "91.4 degF";
  rw_quantity air;
  rw_error err;
  if (rw_quantity_read(text, strlen(text), &air, &err) != RW_OK) {
    fprintf(stderr, "%s\n", err.message);
    return 1;
  }

  /* Magnus form as in air.h, worked by hand: 33 degC and 70 % give a dew point of 26.8 degC. */
  double dew_point = NAN;
  if (rw_air_dew_point(air.si, 0.70, &dew_point, &err) != RW_OK) {
    fprintf(stderr, "%s\n", err.message);
    return 1;
  }
  if (!near(air.si, 306.15, 1e-9, "air") || !near(dew_point, 299.95, 0.05, "dew point"))
    return 1;
  puts(version);
  return 0;
}
