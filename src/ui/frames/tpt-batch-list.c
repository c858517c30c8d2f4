#include "config.h"

#include "tpt-batch-list.h"

#include <glib/gi18n-lib.h>

#include "tpt-batch-line.h"
#include "tpt-list-focus.h"

struct _TptBatchList {
  GtkWidget parent_instance;

  GtkWidget *scroller;
  GtkListBox *rows;
  GPtrArray *batches; /* (owned) (nullable) (element-type TptBatchState) */
  TptBatchState all;  /* owns nothing */
  char *chosen;       /* (owned) (nullable) */
  gboolean quiet;     /* rows are being changed by us */
};

G_DEFINE_FINAL_TYPE (TptBatchList, tpt_batch_list, GTK_TYPE_WIDGET)

enum {
  SIGNAL_CHOSEN,
  SIGNAL_ENTERED,
  N_SIGNALS,
};

static guint signals[N_SIGNALS];

static void
selected_cb (TptBatchList *self, GtkListBoxRow *row)
{
  const char *batch = row != NULL ? tpt_batch_line_get_batch (TPT_BATCH_LINE (row)) : "";

  if (self->quiet || row == NULL || g_strcmp0 (batch, self->chosen != NULL ? self->chosen : "") == 0)
    return;
  g_free (self->chosen);
  self->chosen = batch[0] != '\0' ? g_strdup (batch) : NULL;
  g_signal_emit (self, signals[SIGNAL_CHOSEN], 0);
}

static gboolean
key_cb (TptBatchList *self, guint keyval)
{
  if (keyval != GDK_KEY_Return && keyval != GDK_KEY_KP_Enter && keyval != GDK_KEY_ISO_Enter)
    return FALSE;
  g_signal_emit (self, signals[SIGNAL_ENTERED], 0);
  return TRUE;
}

static void
tpt_batch_list_dispose (GObject *object)
{
  g_clear_pointer (&TPT_BATCH_LIST (object)->scroller, gtk_widget_unparent);

  G_OBJECT_CLASS (tpt_batch_list_parent_class)->dispose (object);
}

static void
tpt_batch_list_finalize (GObject *object)
{
  TptBatchList *self = TPT_BATCH_LIST (object);

  g_clear_pointer (&self->batches, g_ptr_array_unref);
  g_free (self->chosen);

  G_OBJECT_CLASS (tpt_batch_list_parent_class)->finalize (object);
}

static void
tpt_batch_list_class_init (TptBatchListClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = tpt_batch_list_dispose;
  G_OBJECT_CLASS (klass)->finalize = tpt_batch_list_finalize;
  signals[SIGNAL_CHOSEN] =
    g_signal_new ("chosen", G_TYPE_FROM_CLASS (klass), G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
  signals[SIGNAL_ENTERED] =
    g_signal_new ("entered", G_TYPE_FROM_CLASS (klass), G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
  gtk_widget_class_set_layout_manager_type (GTK_WIDGET_CLASS (klass), GTK_TYPE_BIN_LAYOUT);
}

/* The arrow keys choose, Enter goes in, Tab goes on to what follows the list. */
static void
add_keys (TptBatchList *self)
{
  GtkEventController *keys = gtk_event_controller_key_new ();

  gtk_event_controller_set_propagation_phase (keys, GTK_PHASE_CAPTURE);
  g_signal_connect_swapped (keys, "key-pressed", G_CALLBACK (key_cb), self);
  gtk_widget_add_controller (GTK_WIDGET (self->rows), keys);
  tpt_list_focus_install (GTK_WIDGET (self->rows));
}

static void
tpt_batch_list_init (TptBatchList *self)
{
  self->rows = GTK_LIST_BOX (gtk_list_box_new ());
  gtk_list_box_set_selection_mode (self->rows, GTK_SELECTION_BROWSE);
  gtk_widget_add_css_class (GTK_WIDGET (self->rows), "plain-list");
  gtk_widget_add_css_class (GTK_WIDGET (self->rows), "ruled-list");
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->rows), GTK_ACCESSIBLE_PROPERTY_LABEL, _("Card batches"), -1);
  g_signal_connect_swapped (self->rows, "row-selected", G_CALLBACK (selected_cb), self);
  add_keys (self);
  self->scroller = gtk_scrolled_window_new ();
  gtk_scrolled_window_set_policy (GTK_SCROLLED_WINDOW (self->scroller), GTK_POLICY_NEVER, GTK_POLICY_AUTOMATIC);
  gtk_scrolled_window_set_child (GTK_SCROLLED_WINDOW (self->scroller), GTK_WIDGET (self->rows));
  gtk_widget_set_parent (self->scroller, GTK_WIDGET (self));
}

TptBatchList *
tpt_batch_list_new (void)
{
  return g_object_new (TPT_TYPE_BATCH_LIST, NULL);
}

static void
add_up (TptBatchList *self)
{
  self->all = (TptBatchState){ .batch = (char *) "", .first = TPT_NO_INSTANT, .last = TPT_NO_INSTANT };
  for (guint i = 0; i < self->batches->len; i++)
    {
      const TptBatchState *state = self->batches->pdata[i];

      self->all.frames += state->frames;
      self->all.triggers += state->triggers;
      self->all.undecided += state->undecided;
      self->all.disagreements += state->disagreements;
      self->all.scored += state->scored;
      self->all.set_aside += state->set_aside;
    }
}

/* (nullable): the place in the list of @batch; the first is all of them. */
static int
find_index (TptBatchList *self, const char *batch)
{
  for (guint i = 0; batch != NULL && self->batches != NULL && i < self->batches->len; i++)
    if (g_str_equal (((TptBatchState *) self->batches->pdata[i])->batch, batch))
      return (int) i + 1;
  return batch == NULL ? 0 : -1;
}

/* Rows stay and say something else: the place and the focus are theirs. */
static void
fill_rows (TptBatchList *self, TptZone *zone, TptInstant now)
{
  GtkListBoxRow *surplus;

  for (guint i = 0; i <= self->batches->len; i++)
    {
      GtkListBoxRow *row = gtk_list_box_get_row_at_index (self->rows, (int) i);

      if (row == NULL)
        {
          row = GTK_LIST_BOX_ROW (tpt_batch_line_new ());
          gtk_list_box_append (self->rows, GTK_WIDGET (row));
        }
      tpt_batch_line_show (TPT_BATCH_LINE (row), i == 0 ? &self->all : self->batches->pdata[i - 1], zone, now);
    }
  while ((surplus = gtk_list_box_get_row_at_index (self->rows, (int) self->batches->len + 1)) != NULL)
    gtk_list_box_remove (self->rows, GTK_WIDGET (surplus));
}

static void
select_chosen (TptBatchList *self)
{
  int index = find_index (self, self->chosen);

  self->quiet = TRUE;
  gtk_list_box_select_row (self->rows, gtk_list_box_get_row_at_index (self->rows, MAX (index, 0)));
  self->quiet = FALSE;
}

void
tpt_batch_list_set_batches (TptBatchList *self, GPtrArray *batches, TptZone *zone, TptInstant now)
{
  gboolean lost;

  g_ptr_array_ref (batches);
  g_clear_pointer (&self->batches, g_ptr_array_unref);
  self->batches = batches;
  add_up (self);
  self->quiet = TRUE;
  fill_rows (self, zone, now);
  self->quiet = FALSE;
  lost = find_index (self, self->chosen) < 0;
  if (lost)
    g_clear_pointer (&self->chosen, g_free);
  select_chosen (self);
  if (lost)
    g_signal_emit (self, signals[SIGNAL_CHOSEN], 0);
}

const char *
tpt_batch_list_get_chosen (TptBatchList *self)
{
  return self->chosen;
}

void
tpt_batch_list_set_chosen (TptBatchList *self, const char *batch)
{
  char *kept = g_strdup (batch);

  g_free (self->chosen);
  self->chosen = kept;
  select_chosen (self);
}

const TptBatchState *
tpt_batch_list_get_state (TptBatchList *self)
{
  int index = find_index (self, self->chosen);

  if (self->batches == NULL || index < 0)
    return NULL;
  return index == 0 ? &self->all : self->batches->pdata[index - 1];
}

/* The higher, the sooner; 0 for not at all. */
static int
rank (TptBatchList *self, const TptBatchState *state, GHashTable *done)
{
  if (state->scored >= state->triggers || g_hash_table_contains (done, state->batch))
    return 0;
  if (g_strcmp0 (state->batch, self->chosen) == 0)
    return 3;
  return state->undecided > 0 ? 2 : 1;
}

const TptBatchState *
tpt_batch_list_find_next (TptBatchList *self, GHashTable *done)
{
  const TptBatchState *best = NULL;
  int best_rank = 0;

  for (guint i = 0; self->batches != NULL && i < self->batches->len; i++)
    {
      int now = rank (self, self->batches->pdata[i], done);

      if (now > best_rank)
        best = self->batches->pdata[i];
      best_rank = MAX (best_rank, now);
    }
  return best;
}
