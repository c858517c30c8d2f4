#pragma once

#include "tpt-figure-private.h"
#include "tpt-lives.h"

G_BEGIN_DECLS

/* @groups: (owned) (element-type TptLivesGroup), everything in them owned too
 * @oldest: the greatest age seen, days */
typedef struct {
  GPtrArray *groups;
  double oldest;
} TptLives;

/**
 * TptLivesLayout:
 * @plot: the curves
 * @days: the age at the right end
 * @step: days between two ticks
 * @rows: top of the first row of numbers at risk
 */
typedef struct {
  TptFigureRect plot;
  double days;
  double step;
  double rows;
  double row_height;
  guint n_shown;
  double label_x;
  double label_width;
} TptLivesLayout;

void tpt_lives_lay_out (const TptLives *lives, TptCanvas *canvas, const TptFigureRect *area, TptLivesLayout *layout);
double tpt_lives_get_height (const TptLives *lives, TptCanvas *canvas);
void tpt_lives_paint (const TptLives *lives, TptCanvas *canvas, const TptFigureRect *area);

/* Units of @group still followed just before age @days. */
guint tpt_lives_count_at_risk (const TptLivesGroup *group, double days);
double tpt_lives_find_survival (const TptLivesGroup *group, double days);

/* Where the step @index of a curve is drawn, up to the next. */
TptFigureRect tpt_lives_get_step_rect (const TptLivesLayout *layout, const TptLivesGroup *group, guint index);
TptFigureRect tpt_lives_get_row_rect (const TptLivesLayout *layout, const TptFigureRect *area, guint row);

G_END_DECLS
