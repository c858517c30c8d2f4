#include "config.h"

#include "tpt-visit-rig.h"

#include <glib/gi18n-lib.h>

#include "tpt-reading-row.h"

struct _TptVisitRig {
  GtkWidget parent_instance;

  gboolean bring_in;
  gboolean placing; /* rows are being put in place */
  char *found;      /* (owned) (nullable) */
  GtkBox *box;
  GtkLabel *none;
  GPtrArray *rows;  /* (owned) (element-type TptReadingRow) */
  GPtrArray *lined; /* (element-type TptReadingRow): those that made the lines last */
};

G_DEFINE_FINAL_TYPE (TptVisitRig, tpt_visit_rig, GTK_TYPE_WIDGET)

enum {
  SIGNAL_CHANGED,
  SIGNAL_DONE,
  N_SIGNALS,
};

static guint signals[N_SIGNALS];

static void
changed_cb (TptVisitRig *self)
{
  if (!self->placing)
    g_signal_emit (self, signals[SIGNAL_CHANGED], 0);
}

static void
leave_cb (TptVisitRig *self, int rows, TptReadingRow *from)
{
  guint at;

  if (!g_ptr_array_find (self->rows, from, &at) || (int) at + rows < 0)
    return;
  if (at + rows < self->rows->len)
    gtk_widget_grab_focus (self->rows->pdata[at + rows]);
  else
    g_signal_emit (self, signals[SIGNAL_DONE], 0);
}

static void
tpt_visit_rig_dispose (GObject *object)
{
  TptVisitRig *self = TPT_VISIT_RIG (object);
  GtkWidget *child;

  g_ptr_array_set_size (self->lined, 0);
  g_ptr_array_set_size (self->rows, 0);
  while ((child = gtk_widget_get_first_child (GTK_WIDGET (object))) != NULL)
    gtk_widget_unparent (child);

  G_OBJECT_CLASS (tpt_visit_rig_parent_class)->dispose (object);
}

static void
tpt_visit_rig_finalize (GObject *object)
{
  TptVisitRig *self = TPT_VISIT_RIG (object);

  g_free (self->found);
  g_ptr_array_unref (self->rows);
  g_ptr_array_unref (self->lined);

  G_OBJECT_CLASS (tpt_visit_rig_parent_class)->finalize (object);
}

static void
tpt_visit_rig_class_init (TptVisitRigClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = tpt_visit_rig_dispose;
  G_OBJECT_CLASS (klass)->finalize = tpt_visit_rig_finalize;
  gtk_widget_class_set_layout_manager_type (GTK_WIDGET_CLASS (klass), GTK_TYPE_BOX_LAYOUT);

  signals[SIGNAL_CHANGED] =
    g_signal_new ("changed", G_TYPE_FROM_CLASS (klass), G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
  signals[SIGNAL_DONE] =
    g_signal_new ("done", G_TYPE_FROM_CLASS (klass), G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
}

static void
tpt_visit_rig_init (TptVisitRig *self)
{
  GtkLayoutManager *layout = gtk_widget_get_layout_manager (GTK_WIDGET (self));

  gtk_orientable_set_orientation (GTK_ORIENTABLE (layout), GTK_ORIENTATION_VERTICAL);
  gtk_box_layout_set_spacing (GTK_BOX_LAYOUT (layout), 6);
  self->rows = g_ptr_array_new_with_free_func (g_object_unref);
  self->lined = g_ptr_array_new ();
  self->none = GTK_LABEL (gtk_label_new (_("No rig stood here at that time; the visit is recorded without readings.")));
  gtk_label_set_xalign (self->none, 0);
  gtk_label_set_wrap (self->none, TRUE);
  gtk_widget_add_css_class (GTK_WIDGET (self->none), "dim-label");
  gtk_widget_set_visible (GTK_WIDGET (self->none), FALSE);
  gtk_widget_set_parent (GTK_WIDGET (self->none), GTK_WIDGET (self));
  self->box = GTK_BOX (gtk_box_new (GTK_ORIENTATION_VERTICAL, 4));
  gtk_widget_set_parent (GTK_WIDGET (self->box), GTK_WIDGET (self));
}

TptVisitRig *
tpt_visit_rig_new (gboolean bring_in)
{
  TptVisitRig *self = g_object_new (TPT_TYPE_VISIT_RIG, NULL);

  self->bring_in = bring_in;
  return self;
}

/* (transfer full): the row of @unit, taken out of @rows, or a new one. */
static TptReadingRow *
take_row (TptVisitRig *self, GPtrArray *rows, const TptVisitFacts *facts, const char *unit)
{
  TptReadingRow *row;

  for (guint i = 0; i < rows->len; i++)
    if (g_strcmp0 (tpt_record_get_code (tpt_reading_row_get_unit (rows->pdata[i])), unit) == 0)
      return g_ptr_array_steal_index (rows, i);
  row = g_object_ref_sink (tpt_reading_row_new (tpt_visit_facts_find_unit (facts, unit), g_hash_table_lookup (facts->last, unit)));
  g_signal_connect_swapped (row, "changed", G_CALLBACK (changed_cb), self);
  g_signal_connect_swapped (row, "leave", G_CALLBACK (leave_cb), self);
  return row;
}

static void
place_row (TptVisitRig *self, TptReadingRow *row, const TptVisitFacts *facts, GHashTable *spares)
{
  const char *kind = tpt_record_get_text (tpt_reading_row_get_unit (row), "kind");
  GPtrArray *own = g_hash_table_lookup (spares, kind);

  if (own == NULL)
    {
      own = tpt_visit_facts_list_spares (facts, kind);
      g_hash_table_insert (spares, (gpointer) kind, own);
    }
  tpt_reading_row_set_spares (row, own, self->bring_in);
  tpt_reading_row_set_found (row, self->found);
  if (gtk_widget_get_parent (GTK_WIDGET (row)) == NULL)
    gtk_box_append (self->box, GTK_WIDGET (row));
  else
    gtk_box_reorder_child_after (self->box, GTK_WIDGET (row), gtk_widget_get_last_child (GTK_WIDGET (self->box)));
}

void
tpt_visit_rig_set_facts (TptVisitRig *self, const TptVisitFacts *facts)
{
  g_autoptr (GPtrArray) before = g_steal_pointer (&self->rows);
  g_autoptr (GHashTable) spares = g_hash_table_new_full (g_str_hash, g_str_equal, NULL, (GDestroyNotify) g_ptr_array_unref);

  g_ptr_array_set_size (self->lined, 0);
  self->rows = g_ptr_array_new_with_free_func (g_object_unref);
  self->placing = TRUE;
  for (guint i = 0; i < facts->rig->len; i++)
    {
      TptReadingRow *row = take_row (self, before, facts, tpt_record_get_text (facts->rig->pdata[i], "unit"));

      g_ptr_array_add (self->rows, row);
      place_row (self, row, facts, spares);
    }
  for (guint i = 0; i < before->len; i++)
    gtk_box_remove (self->box, before->pdata[i]);
  gtk_widget_set_visible (GTK_WIDGET (self->none), self->rows->len == 0);
  self->placing = FALSE;
  changed_cb (self);
}

void
tpt_visit_rig_set_found (TptVisitRig *self, const char *found)
{
  g_free (self->found);
  self->found = g_strdup (found);
  for (guint i = 0; i < self->rows->len; i++)
    tpt_reading_row_set_found (self->rows->pdata[i], found);
}

void
tpt_visit_rig_say_working (TptVisitRig *self)
{
  for (guint i = 0; i < self->rows->len; i++)
    tpt_reading_row_say_working (self->rows->pdata[i]);
}

gboolean
tpt_visit_rig_is_valid (TptVisitRig *self)
{
  for (guint i = 0; i < self->rows->len; i++)
    if (!tpt_reading_row_is_valid (self->rows->pdata[i]))
      return FALSE;
  return TRUE;
}

GPtrArray *
tpt_visit_rig_make_lines (TptVisitRig *self)
{
  GPtrArray *lines = g_ptr_array_new_with_free_func ((GDestroyNotify) tpt_visit_line_free);

  g_ptr_array_set_size (self->lined, 0);
  for (guint i = 0; i < self->rows->len; i++)
    {
      TptVisitLine *line = tpt_reading_row_make_line (self->rows->pdata[i]);

      if (line == NULL)
        continue;
      g_ptr_array_add (lines, line);
      g_ptr_array_add (self->lined, self->rows->pdata[i]);
    }
  return lines;
}

void
tpt_visit_rig_show_faults (TptVisitRig *self, GPtrArray *faults)
{
  for (guint i = 0; i < self->rows->len; i++)
    if (tpt_reading_row_is_valid (self->rows->pdata[i]))
      tpt_reading_row_set_fault (self->rows->pdata[i], NULL);
  for (guint i = 0; faults != NULL && i < faults->len; i++)
    {
      const TptVisitFault *fault = faults->pdata[i];

      if (fault->line >= 0 && (guint) fault->line < self->lined->len)
        tpt_reading_row_set_fault (self->lined->pdata[fault->line], fault->reason);
    }
}
