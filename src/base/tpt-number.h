/* Numbers as text, the same in every locale.
 *
 * Readers take blanks around a number and nothing else that is not the number:
 * no decimal comma, no 'nan' or 'inf', no hexadecimal, no thousands mark. The
 * error is TPT_ERROR_DATA with the reason alone; the caller knows the place.
 */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

/* @min and @max are allowed values; use -INFINITY and INFINITY for no bound. */
gboolean tpt_number_parse_real (const char *text, double min, double max, double *value, GError **error);

/* Whole numbers without a point or an exponent. */
gboolean tpt_number_parse_integer (const char *text, gint64 min, gint64 max, gint64 *value, GError **error);

/* (transfer full): with 15 significant digits, or with 16 or 17 where it takes
 * those to read back as @value exactly; the empty text for NAN, which stands
 * for 'unknown'. Infinities are a programming error. */
char *tpt_number_format_real (double value);

/* (transfer full): rounded to at most @decimals, without trailing zeros and
 * never "-0". @value is finite. */
char *tpt_number_format_fixed (double value, int decimals);

G_END_DECLS
