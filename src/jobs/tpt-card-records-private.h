/* What is on record about the deployments a card may have stood in: their
 * cameras, and what visits noted of clocks and frames. */
#pragma once

#include "tpt-clock-plan.h"
#include "tpt-store.h"

G_BEGIN_DECLS

typedef struct _TptCardRecords TptCardRecords;

/* (transfer full) (nullable): read at once; %NULL with @error. */
TptCardRecords *tpt_card_records_new (TptStore *store, GError **error);
void tpt_card_records_free (TptCardRecords *self);

/* (transfer none) (element-type TptRecord): every deployment. */
GPtrArray *tpt_card_records_get_deployments (TptCardRecords *self);

/* (nullable) (transfer none): the unit of this serial number, whatever its blanks, leading zeros and letter case. */
TptRecord *tpt_card_records_find_serial (TptCardRecords *self, const char *serial);

/* A visit that counted the frames on the card. */
typedef struct {
  TptInstant at;
  gint64 frames;
} TptCardCount;

/**
 * TptCardFacts: one deployment.
 * @deployment: (owned):
 * @station: (owned) (nullable):
 * @cameras: (owned) (element-type TptRecord): units of kind camera that were fitted, by time
 * @pairs: (owned) (element-type TptClockPair): of its visits, by time
 * @reads: (owned) (element-type utf8): what was noted of each pair's clock
 * @counts: (owned) (element-type TptCardCount): by time
 * @ended_at: see #TptClockKnown
 * @zone: (owned):
 * @now: the moment of asking
 */
typedef struct {
  TptRecord *deployment;
  TptRecord *station;
  GPtrArray *cameras;
  GArray *pairs;
  GPtrArray *reads;
  GArray *counts;
  TptInstant ended_at;
  TptZone *zone;
  TptInstant now;
} TptCardFacts;

/**
 * tpt_card_facts_new:
 * @serial: (nullable): of the camera that took the card's frames: only what was
 *   noted while it was fitted counts, when its fittings are on record
 *
 * A visit belongs to the deployment within twelve hours of its start and end. At
 * the start, when another deployment ended there with another camera, the
 * clock that was read is that camera's.
 */
TptCardFacts *tpt_card_facts_new (TptCardRecords *records, TptRecord *deployment, const char *serial);
void tpt_card_facts_free (TptCardFacts *self);

/* What @facts come to for a clock plan; pairs stay theirs. */
void tpt_card_facts_fill_known (const TptCardFacts *self, TptClockKnown *known);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (TptCardRecords, tpt_card_records_free)
G_DEFINE_AUTOPTR_CLEANUP_FUNC (TptCardFacts, tpt_card_facts_free)

G_END_DECLS
