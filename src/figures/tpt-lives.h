/* How long units last: survival curves with their bands, a row of numbers at
 * risk for each below the axis of age. */
#pragma once

#include "tpt-figure.h"

G_BEGIN_DECLS

/* A curve at an age at which something failed; flat from there to the next.
 * NAN where there is no limit. */
typedef struct {
  double days;
  guint at_risk;
  guint failures;
  double survival;
  double low;
  double high;
} TptLivesStep;

/* How one life ended: failed, or still at work when it was last seen. */
typedef struct {
  double days;
  gboolean failed;
} TptLivesEnd;

/**
 * TptLivesGroup:
 * @label: what the units have in common
 * @key: (nullable): what the caller knows it by
 * @reason: (nullable): why there is no curve; then @steps are not drawn
 * @steps: by age
 * @ends: by age, one for each unit
 */
typedef struct {
  const char *label;
  const char *key;
  const char *reason;
  const TptLivesStep *steps;
  guint n_steps;
  const TptLivesEnd *ends;
  guint n_ends;
} TptLivesGroup;

TptFigure *tpt_lives_new (void);

/* Copies. Groups are told apart by colour, dash and mark in the order added. */
void tpt_lives_add_group (TptFigure *figure, const TptLivesGroup *group);

G_END_DECLS
