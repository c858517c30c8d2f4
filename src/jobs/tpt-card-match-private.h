/* What speaks for and against a card having stood in a deployment. */
#pragma once

#include "tpt-card-records-private.h"
#include "tpt-job-survey.h"

G_BEGIN_DECLS

/**
 * TptCardView: a card, as far as it has been read.
 * @bodies: (element-type TptSurveyBody): the cameras
 * @sights: (array length=n): its frames in the card's order
 * @files: frames and what could not be read as one
 */
typedef struct {
  GPtrArray *bodies;
  const TptClockSight *sights;
  guint n;
  gint64 files;
} TptCardView;

/* (nullable) (transfer none): the serial number that most frames tell. */
const char *tpt_card_view_get_serial (const TptCardView *view);

void tpt_survey_match_free (TptSurveyMatch *self);

/**
 * tpt_card_match_new:
 *
 * How well the card's camera and its readings as they stand fit, with reasons
 * and objections of the camera alone; see tpt_card_match_judge() for the rest.
 */
TptSurveyMatch *tpt_card_match_new (TptCardRecords *records, const TptCardFacts *facts, const TptCardView *view);

/* Completes @match with the steps and doubts of @plan, and with what dates and
 * counts say when the steps @ids are done. */
void tpt_card_match_judge (TptSurveyMatch *match, const TptCardFacts *facts, const TptCardView *view, TptClockPlan *plan,
                           const char *const *ids);

/* By how well they fit; the same card and records always give the same order. */
int tpt_card_match_compare_cb (gconstpointer a, gconstpointer b);

/* (transfer full) (element-type TptClockStep) */
GPtrArray *tpt_card_list_steps (TptClockPlan *plan, const TptClockSight *sights);

G_END_DECLS
