#pragma once

#include "tpt-figure-private.h"
#include "tpt-phases.h"
#include "tpt-rate-marks-private.h"

G_BEGIN_DECLS

/* @phases: (owned) (element-type TptPhase), each label owned */
typedef struct {
  GArray *phases;
} TptPhases;

/**
 * TptPhasesLayout:
 * @head: top of what the scale is of
 * @moons: middle of the moons
 * @radius: of each moon
 * @labels: top of the names of the phases
 * @label_every: 1, or more when not every name has room
 */
typedef struct {
  TptRateScale scale;
  double head;
  double moons;
  double radius;
  double labels;
  double labels_height;
  guint label_every;
} TptPhasesLayout;

TptRateMark tpt_phases_get_mark (const TptPhase *phase);
void tpt_phases_set_scale (const TptPhases *phases, TptRateScale *scale);
gboolean tpt_phases_have_effort (const TptPhases *phases);

void tpt_phases_lay_out (const TptPhases *phases, TptCanvas *canvas, const TptFigureRect *area,
                         TptPhasesLayout *layout);
double tpt_phases_get_height (const TptPhases *phases, TptCanvas *canvas, double width);

/* The middle of a column; @room is its width. */
double tpt_phases_place (const TptPhases *phases, const TptPhasesLayout *layout, guint index, double *room);

void tpt_phases_paint (const TptPhases *phases, TptCanvas *canvas, const TptFigureRect *area);

/* A moon with the share @lit of its disc in the light, on the right while it waxes, as the northern
 * half of the earth sees it. */
void tpt_moon_draw (TptCanvas *canvas, double x, double y, double radius, double lit, gboolean waxing);

G_END_DECLS
