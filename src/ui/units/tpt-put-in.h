/* What went in when a unit was swapped: fresh cells, the same card, a unit by
 * name from the shelf. */
#pragma once

#include <gtk/gtk.h>

#include "tpt-record.h"

G_BEGIN_DECLS

#define TPT_TYPE_PUT_IN (tpt_put_in_get_type ())
G_DECLARE_FINAL_TYPE (TptPutIn, tpt_put_in, TPT, PUT_IN, GtkWidget)

/* For what was taken out of @unit's place. Signal "changed". */
TptPutIn *tpt_put_in_new (TptRecord *unit);

/* (element-type TptRecord): what is chosen stays when it is there still. */
void tpt_put_in_set_spares (TptPutIn *self, GPtrArray *spares);

/* (transfer none) (nullable): the code of the unit that went in; the unit's own
 * when the same one did; %NULL for something without a name. */
const char *tpt_put_in_get (TptPutIn *self);

/* The next one in the list, and the first after the last. */
void tpt_put_in_step (TptPutIn *self);

G_END_DECLS
