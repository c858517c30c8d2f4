/* Which frames belong to one firing of the trigger.
 *
 * Frames of one deployment, in the order of time. A frame starts a new trigger
 * 1. when the deployment's number of frames per trigger is known and the
 *    trigger has them all: never more;
 * 2. else, when both it and the frame before tell their place in the burst:
 *    unless its place is the next one and it comes within a minute;
 * 3. else when it comes more than the gap after the frame before.
 * A frame without a time is a trigger of its own.
 */
#pragma once

#include <glib.h>

#include "tpt-time.h"

G_BEGIN_DECLS

/* Seconds. Common practice, no source: bursts are a few frames within two or
 * three seconds, and the pause set between triggers is seldom below five. */
#define TPT_TRIGGER_GAP_S 5.0

/* How many pauses within bursts, and between them, a card must show before its own gap is believed. */
#define TPT_TRIGGER_FEWEST 10

/**
 * TptTriggerFrame:
 * @at: when; %TPT_NO_INSTANT unknown
 * @sequence: place in its burst from 1; 0 unknown
 */
typedef struct {
  TptInstant at;
  int sequence;
} TptTriggerFrame;

/**
 * tpt_trigger_group:
 * @frames: (array length=n): by time, those without a time last
 * @n: how many
 * @frames_per_trigger: of the deployment; 0 unknown
 * @gap_s: longest pause within a burst, seconds; 0 means %TPT_TRIGGER_GAP_S; see tpt_trigger_learn_gap()
 * @triggers: (out) (array length=n): the trigger of each frame, from 0, rising
 *
 * Returns: how many triggers
 */
guint tpt_trigger_group (const TptTriggerFrame *frames, guint n, int frames_per_trigger, double gap_s,
                         guint *triggers);

/**
 * tpt_trigger_learn_gap:
 * @frames: (array length=n): by time, those without a time last
 * @n: how many
 *
 * The longest pause within a burst, learnt from the card itself. Pauses within
 * a burst are much alike, those between triggers are not: sorted by length,
 * pauses of up to two minutes leave a hole between the two. The widest such
 * hole is taken, from @a to @b seconds with @b at least three times @a, @a at
 * most 40 s, and %TPT_TRIGGER_FEWEST pauses or more on either side. A pause under a second
 * counts as one, since most cameras tell no less. The gap lies in the middle
 * of the hole (by ratio).
 *
 * Returns: seconds; %TPT_TRIGGER_GAP_S where no such hole shows
 */
double tpt_trigger_learn_gap (const TptTriggerFrame *frames, guint n);

G_END_DECLS
