/* Reads the frames of triggers for the window: of the one on screen first, then
 * of those that come next. Nothing blocks.
 *
 * Signals: "read": the rows of something wanted have come; "failed" (message).
 */
#pragma once

#include "tpt-frame-item.h"
#include "tpt-project.h"

G_BEGIN_DECLS

#define TPT_TYPE_TRIGGER_READER (tpt_trigger_reader_get_type ())
G_DECLARE_FINAL_TYPE (TptTriggerReader, tpt_trigger_reader, TPT, TRIGGER_READER, GObject)

TptTriggerReader *tpt_trigger_reader_new (TptProject *project);

/* Frames of the triggers that are wanted, the most urgent first. Whatever else
 * there is in memory goes. */
void tpt_trigger_reader_want (TptTriggerReader *self, const TptFrameRef *refs, guint n);

/* (transfer none) (nullable) (element-type TptFrameRow): of the trigger of
 * @ref, by place; of the frame alone when it has no trigger. Never changed once
 * it is there; replaced when it is read again. */
GPtrArray *tpt_trigger_reader_get (TptTriggerReader *self, TptFrameRef ref);

/* What is known of one trigger, or of all, is read again; the old rows show until then. */
void tpt_trigger_reader_renew (TptTriggerReader *self, TptFrameRef ref);
void tpt_trigger_reader_renew_all (TptTriggerReader *self);

/* Ends reading; before the project goes away. */
void tpt_trigger_reader_stop (TptTriggerReader *self);

G_END_DECLS
