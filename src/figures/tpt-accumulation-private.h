#pragma once

#include "tpt-accumulation.h"
#include "tpt-figure-private.h"
#include "tpt-value-axis.h"

G_BEGIN_DECLS

/* @low, @high: the band of 95 %, not below nought */
typedef struct {
  double mean;
  double low;
  double high;
} TptAccumulationStep;

/* @label: (owned) */
typedef struct {
  char *label;
  double level;
  double low;
  double high;
} TptAccumulationLevel;

/**
 * TptAccumulation:
 * @steps: (owned) (element-type TptAccumulationStep): for 1, 2, 3 … stations
 * @levels: (owned) (element-type TptAccumulationLevel)
 */
typedef struct {
  GArray *steps;
  GArray *levels;
} TptAccumulation;

/* At most. */
#define TPT_ACCUMULATION_LABELS 8

/**
 * TptAccumulationLayout: what stands at the right is the end of the curve and then each
 * level, in the order added.
 * @marks: left end of the marks of levels
 * @mark_width: of each
 * @labels: left end of their words
 * @label_width: 0 for none
 * @label_lines: 2 for a name above its numbers, 1 for both in one line
 * @n_labels: those that have room
 * @label_y: (array length=n_labels): middle of each
 */
typedef struct {
  TptFigureRect plot;
  TptValueAxis species;
  double marks;
  double mark_width;
  double labels;
  double label_width;
  guint label_lines;
  guint n_labels;
  double label_y[TPT_ACCUMULATION_LABELS];
} TptAccumulationLayout;

const TptAccumulationStep *tpt_accumulation_get_step (const TptAccumulation *accumulation, guint index);
const TptAccumulationLevel *tpt_accumulation_get_level (const TptAccumulation *accumulation, guint index);

void tpt_accumulation_lay_out (const TptAccumulation *accumulation, TptCanvas *canvas, const TptFigureRect *area,
                               TptAccumulationLayout *layout);
double tpt_accumulation_get_height (const TptAccumulation *accumulation, TptCanvas *canvas);

/* Of the steps, from 0. */
double tpt_accumulation_place (const TptAccumulation *accumulation, const TptAccumulationLayout *layout, guint index);
TptFigureRect tpt_accumulation_get_level_rect (const TptAccumulation *accumulation, const TptAccumulationLayout *layout,
                                               const TptCanvas *canvas, guint index);
TptFigureRect tpt_accumulation_get_label_rect (const TptAccumulationLayout *layout, const TptCanvas *canvas,
                                               guint index);
void tpt_accumulation_paint (const TptAccumulation *accumulation, TptCanvas *canvas, const TptFigureRect *area);

G_END_DECLS
