/* Detections at night by the phase of the moon: rates with their intervals above the nights
 * they stand on, the moons drawn below, from new through full to new. */
#pragma once

#include "tpt-figure.h"

G_BEGIN_DECLS

TptFigure *tpt_phases_new (void);

/**
 * TptPhase: one stretch of the moon's round.
 * @label: (not owned): what it is called, such as "full"
 * @lit: share of the disc that is lit in its middle, 0 to 1
 * @waxing: whether it grows there
 * @nights: nights of work in it
 * @detections: in the dark of these nights
 * @rate, @low, @high: per 100 nights; NAN without effort
 */
typedef struct {
  const char *label;
  double lit;
  gboolean waxing;
  double nights;
  gint64 detections;
  double rate;
  double low;
  double high;
} TptPhase;

/* Copies. In the order of the moon's round, the new moon first. Returns its number. */
int tpt_phases_add (TptFigure *figure, const TptPhase *phase);

G_END_DECLS
