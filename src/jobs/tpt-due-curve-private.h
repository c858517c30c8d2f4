/* The chance of being out against the date, and the nights it costs: worked out
 * at some days, between which it is read off. */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

/* A chance of the day, 0 to 1 and growing; days from the moment of asking. */
typedef double (*TptChanceFunc) (double day, gpointer data);

typedef struct _TptDueCurve TptDueCurve;

/**
 * tpt_due_curve_new:
 * @days: (element-type double): the days to work it out at, in any order, 0 and
 *   the last one asked for among them
 * @costly: whether the nights it costs are wanted too
 */
TptDueCurve *tpt_due_curve_new (GArray *days, gboolean costly, TptChanceFunc chance, gpointer data);
void tpt_due_curve_free (TptDueCurve *self); /* @self may be NULL */

/* Straight between the days: exact at each of them. */
double tpt_due_curve_get_chance (const TptDueCurve *self, double day);

/* The integral of the chance from 0: Simpson's rule from day to day, a cubic
 * with the chances as its slopes within. Error below 0.05 nights as long as the
 * steep parts of the chance have days of their own; NAN unless costly. */
double tpt_due_curve_get_lost (const TptDueCurve *self, double day);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (TptDueCurve, tpt_due_curve_free)

G_END_DECLS
