/* One card on its way into the project: what was found on it, what was chosen,
 * and how far it has come. */
#pragma once

#include <gio/gio.h>

#include "tpt-job-intake.h"
#include "tpt-job-survey.h"
#include "tpt-project.h"

G_BEGIN_DECLS

/**
 * TptCardState:
 * @TPT_CARD_LOOKING: it is being looked through
 * @TPT_CARD_UNREAD: it could not be; see tpt_card_get_trouble()
 * @TPT_CARD_READY: looked through, and nothing copied yet
 * @TPT_CARD_QUEUED: waits for the cards before it
 * @TPT_CARD_TAKING: is being copied
 * @TPT_CARD_STOPPED: was stopped by somebody, or by a trouble; can go on
 * @TPT_CARD_TAKEN: done; see tpt_card_get_intake()
 */
typedef enum {
  TPT_CARD_LOOKING,
  TPT_CARD_UNREAD,
  TPT_CARD_READY,
  TPT_CARD_QUEUED,
  TPT_CARD_TAKING,
  TPT_CARD_STOPPED,
  TPT_CARD_TAKEN,
} TptCardState;

#define TPT_TYPE_CARD (tpt_card_get_type ())
G_DECLARE_FINAL_TYPE (TptCard, tpt_card, TPT, CARD, GObject)

/* Signals: "changed", its state or what was chosen is another; "progress". */
TptCard *tpt_card_new (TptProject *project, const char *folder, const char *title);

const char *tpt_card_get_folder (TptCard *self);
const char *tpt_card_get_title (TptCard *self);
TptZone *tpt_card_get_zone (TptCard *self);
TptCardState tpt_card_get_state (TptCard *self);
/* (nullable): why it could not be looked through or taken in, in words. */
const char *tpt_card_get_trouble (TptCard *self);

/* Whether its folder can be reached; a card is pulled out and put back. */
void tpt_card_set_there (TptCard *self, gboolean there);
gboolean tpt_card_get_there (TptCard *self);

/* Whose deployment is chosen unless the card itself tells another. */
void tpt_card_set_station (TptCard *self, const char *station);

/* Looks through the card in the background, again if need be. */
void tpt_card_look (TptCard *self);
/* (transfer none) (nullable): once looked through. */
TptJobSurvey *tpt_card_get_survey (TptCard *self);

/* Place among the matches of the survey, -1 for none. */
void tpt_card_choose (TptCard *self, int match);
int tpt_card_get_chosen (TptCard *self);
/* (transfer none) (nullable) */
const TptSurveyMatch *tpt_card_get_match (TptCard *self);
/* Whether records contradict what is chosen, and nobody has agreed to that. */
gboolean tpt_card_is_disputed (TptCard *self);
/* Somebody was asked about the objections and goes on. */
void tpt_card_agree (TptCard *self);

/* Steps of the clock, by their ids; those proposed are on at first. */
gboolean tpt_card_get_step (TptCard *self, const char *id);
void tpt_card_set_step (TptCard *self, const char *id, gboolean on);

/* A reading of the clock given by hand; it stands in for the offset and the
 * drift known from visits. Both %NULL for none. */
void tpt_card_set_pair (TptCard *self, const char *read, const char *true_time);
gboolean tpt_card_has_pair (TptCard *self);
/* What is typed makes no pair yet, and nothing can be taken in meanwhile. */
void tpt_card_set_pair_unclear (TptCard *self, gboolean unclear);

gboolean tpt_card_can_take (TptCard *self);
void tpt_card_queue (TptCard *self);
void tpt_card_take (TptCard *self);
/* Stops what is under way or takes it out of the queue; nothing is lost. */
void tpt_card_stop (TptCard *self);
/* (transfer none) (nullable): once taken in. */
TptJobIntake *tpt_card_get_intake (TptCard *self);

double tpt_card_get_progress (TptCard *self);
/* (transfer full): as the job words it. */
char *tpt_card_get_progress_text (TptCard *self);

G_END_DECLS
