/* How many species have been seen at a number of stations: the mean over all ways to choose
 * them, with a band of 95 %, and where it may lead. */
#pragma once

#include "tpt-figure.h"

G_BEGIN_DECLS

TptFigure *tpt_accumulation_new (void);

/* By @n, from 1 upwards, one at a time. @sd is the standard deviation over subsets of
 * stations; the band is the mean with 1.96 of it on both sides. */
void tpt_accumulation_add (TptFigure *figure, guint n, double mean, double sd);

/* A level the curve may lead to, such as an estimate of all species present: drawn as a
 * line at the right with its interval. @low and @high may be NAN. */
void tpt_accumulation_add_level (TptFigure *figure, const char *label, double level, double low, double high);

G_END_DECLS
