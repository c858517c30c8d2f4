/* Comparing numbers in case tables. */
#pragma once

#include <glib.h>
#include <math.h>

/* Both stop the test with both values in full unless @got is within @tolerance
 * of @want, absolute or as a share of it. NaN and infinities must be met. */
#define check_abs(what, got, want, tolerance) \
  check_number (G_STRLOC, what, got, want, tolerance)
#define check_rel(what, got, want, tolerance) \
  check_number (G_STRLOC, what, got, want, fabs ((double) (want)) * (tolerance))

static inline void
check_number (const char *where, const char *what, double got, double want, double tolerance)
{
  if (isnan (want) ? isnan (got) : isinf (want) ? got == want : fabs (got - want) <= tolerance)
    return;
  g_error ("%s: %s: got %.17g, want %.17g within %.3g", where, what, got, want, tolerance);
}
