#include "config.h"

#include "tpt-record-form.h"

#include <glib/gi18n-lib.h>
#include <string.h>

struct _TptRecordForm {
  GtkWidget parent_instance;

  TptTableId table;
  GHashTable *fields; /* (owned) (element-type utf8 TptField) */
  GPtrArray *titles;  /* (element-type GtkWidget): headings, one per section */
  TptRecord *loaded;  /* (owned) (nullable) */
  gboolean code_typed;
};

G_DEFINE_FINAL_TYPE (TptRecordForm, tpt_record_form, GTK_TYPE_WIDGET)

enum {
  SIGNAL_CHANGED,
  N_SIGNALS,
};

static guint signals[N_SIGNALS];

/* A section and its columns, separated by blanks. */
typedef struct {
  TptTableId table;
  const char *title;
  const char *columns;
} Section;

static const Section sections[] = {
  { TPT_TABLE_STATIONS, N_("Station"), "name station" },
  { TPT_TABLE_STATIONS, N_("Position"), "latitude longitude uncertainty_m elevation_m" },
  { TPT_TABLE_STATIONS, N_("Place"), "feature habitat sensitivity access notes" },
  { TPT_TABLE_UNITS, N_("Unit"), "kind unit label housing make model serial acquired" },
  { TPT_TABLE_UNITS, N_("Sensor"), "sensor" },
  { TPT_TABLE_UNITS, N_("Card"), "capacity_gb" },
  { TPT_TABLE_UNITS, N_("Energy"), "chemistry cell_mah cells_series cells_parallel sleep_ma awake_ma awake_s frame_mas" },
  { TPT_TABLE_UNITS, N_("Flash"), "flash_ws power_fraction" },
  { TPT_TABLE_UNITS, N_("Further"), "retired retire_cause notes" },
};

/* Which kinds of unit a column is for; a column not named is for all. */
static const struct {
  const char *column;
  const char *kinds;
} fits[] = {
  { "sensor", "camera trigger" },
  { "capacity_gb", "card" },
  { "chemistry", "camera trigger flash pack other" },
  { "cell_mah", "camera trigger flash pack other" },
  { "cells_series", "camera trigger flash pack other" },
  { "cells_parallel", "camera trigger flash pack other" },
  { "sleep_ma", "camera trigger flash pack other" },
  { "awake_ma", "camera trigger other" },
  { "awake_s", "camera trigger other" },
  { "frame_mas", "camera" },
  { "flash_ws", "flash camera" },
  { "power_fraction", "flash camera" },
};

static gboolean
holds_word (const char *words, const char *word)
{
  g_auto (GStrv) all = g_strsplit (words, " ", -1);

  return g_strv_contains ((const char *const *) all, word);
}

static gboolean
fits_kind (const char *column, const char *kind)
{
  for (gsize i = 0; i < G_N_ELEMENTS (fits); i++)
    if (g_str_equal (fits[i].column, column))
      return *kind != '\0' && holds_word (fits[i].kinds, kind);
  return TRUE;
}

static void
show_fitting (TptRecordForm *self)
{
  g_autofree char *kind = NULL;
  guint title = 0;

  if (self->table != TPT_TABLE_UNITS)
    return;
  kind = tpt_field_get_text (tpt_record_form_get_field (self, "kind"));
  for (gsize s = 0; s < G_N_ELEMENTS (sections); s++)
    {
      g_auto (GStrv) columns = NULL;
      gboolean any = FALSE;

      if (sections[s].table != self->table)
        continue;
      columns = g_strsplit (sections[s].columns, " ", -1);
      for (guint i = 0; columns[i] != NULL; i++)
        {
          gboolean shown = fits_kind (columns[i], kind);

          gtk_widget_set_visible (GTK_WIDGET (tpt_record_form_get_field (self, columns[i])), shown);
          any |= shown;
        }
      gtk_widget_set_visible (self->titles->pdata[title++], any);
    }
}

/* "2.4128, 113.0243" pasted into the latitude is both. */
static void
split_position (TptRecordForm *self)
{
  TptField *latitude = tpt_record_form_get_field (self, "latitude"), *longitude;
  g_autofree char *text = NULL;
  g_auto (GStrv) parts = NULL;

  if (latitude == NULL)
    return;
  longitude = tpt_record_form_get_field (self, "longitude");
  text = tpt_field_get_text (latitude);
  parts = g_strsplit_set (text, ",; \t", -1);
  if (g_strv_length (parts) < 2 || strpbrk (text, "0123456789") == NULL)
    return;
  for (guint i = 1; parts[i] != NULL; i++)
    if (*parts[i] != '\0')
      {
        tpt_field_set_text (longitude, parts[i]);
        tpt_field_set_text (latitude, parts[0]);
        return;
      }
}

/* The first letters of the name, until somebody types a code. */
static void
suggest_code (TptRecordForm *self, TptField *changed)
{
  TptField *code = tpt_record_form_get_field (self, "station"), *name = tpt_record_form_get_field (self, "name");
  g_autofree char *text = NULL;
  g_autoptr (GString) stem = NULL;

  if (self->table != TPT_TABLE_STATIONS || self->loaded != NULL || changed != name || self->code_typed)
    return;
  text = tpt_field_get_text (name);
  stem = g_string_new (NULL);
  for (const char *p = text; *p != '\0' && stem->len < 6; p++)
    if (g_ascii_isalnum (*p))
      g_string_append_c (stem, g_ascii_toupper (*p));
  tpt_field_set_text (code, stem->str);
  self->code_typed = FALSE;
}

static void
field_changed_cb (TptField *field, TptRecordForm *self)
{
  if (g_str_equal (tpt_field_get_column (field)->name, "station"))
    self->code_typed = TRUE;
  if (g_str_equal (tpt_field_get_column (field)->name, "latitude"))
    split_position (self);
  suggest_code (self, field);
  show_fitting (self);
  g_signal_emit (self, signals[SIGNAL_CHANGED], 0);
}

static void
add_section (TptRecordForm *self, const Section *section, TptZone *zone)
{
  const TptTable *table = tpt_table_get (self->table);
  g_auto (GStrv) columns = g_strsplit (section->columns, " ", -1);
  GtkWidget *title = gtk_label_new (_(section->title)), *grid = gtk_grid_new ();

  gtk_label_set_xalign (GTK_LABEL (title), 0);
  gtk_widget_add_css_class (title, "heading");
  gtk_widget_set_parent (title, GTK_WIDGET (self));
  g_ptr_array_add (self->titles, title);
  gtk_grid_set_column_spacing (GTK_GRID (grid), 18);
  gtk_grid_set_row_spacing (GTK_GRID (grid), 12);
  gtk_grid_set_column_homogeneous (GTK_GRID (grid), TRUE);
  gtk_widget_set_parent (grid, GTK_WIDGET (self));
  for (int i = 0; columns[i] != NULL; i++)
    {
      TptField *field = tpt_field_new (&table->columns[tpt_table_find (table, columns[i])], zone);

      gtk_widget_set_valign (GTK_WIDGET (field), GTK_ALIGN_START);
      gtk_grid_attach (GTK_GRID (grid), GTK_WIDGET (field), i % 2, i / 2, 1, 1);
      g_hash_table_insert (self->fields, g_strdup (columns[i]), field);
      g_signal_connect (field, "changed", G_CALLBACK (field_changed_cb), self);
    }
}

static void
tpt_record_form_dispose (GObject *object)
{
  GtkWidget *child;

  while ((child = gtk_widget_get_first_child (GTK_WIDGET (object))) != NULL)
    gtk_widget_unparent (child);
  g_clear_object (&TPT_RECORD_FORM (object)->loaded);

  G_OBJECT_CLASS (tpt_record_form_parent_class)->dispose (object);
}

static void
tpt_record_form_finalize (GObject *object)
{
  g_hash_table_unref (TPT_RECORD_FORM (object)->fields);
  g_ptr_array_unref (TPT_RECORD_FORM (object)->titles);

  G_OBJECT_CLASS (tpt_record_form_parent_class)->finalize (object);
}

static void
tpt_record_form_class_init (TptRecordFormClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = tpt_record_form_dispose;
  G_OBJECT_CLASS (klass)->finalize = tpt_record_form_finalize;
  gtk_widget_class_set_layout_manager_type (GTK_WIDGET_CLASS (klass), GTK_TYPE_BOX_LAYOUT);

  signals[SIGNAL_CHANGED] =
    g_signal_new ("changed", G_TYPE_FROM_CLASS (klass), G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
}

static void
tpt_record_form_init (TptRecordForm *self)
{
  GtkLayoutManager *layout = gtk_widget_get_layout_manager (GTK_WIDGET (self));

  gtk_orientable_set_orientation (GTK_ORIENTABLE (layout), GTK_ORIENTATION_VERTICAL);
  gtk_box_layout_set_spacing (GTK_BOX_LAYOUT (layout), 12);
  self->fields = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  self->titles = g_ptr_array_new ();
}

TptRecordForm *
tpt_record_form_new (TptTableId table, TptZone *zone)
{
  TptRecordForm *self = g_object_new (TPT_TYPE_RECORD_FORM, NULL);

  self->table = table;
  for (gsize i = 0; i < G_N_ELEMENTS (sections); i++)
    if (sections[i].table == table)
      add_section (self, &sections[i], zone);
  show_fitting (self);
  return self;
}

TptField *
tpt_record_form_get_field (TptRecordForm *self, const char *column)
{
  return g_hash_table_lookup (self->fields, column);
}

void
tpt_record_form_load (TptRecordForm *self, TptRecord *record)
{
  GHashTableIter iter;
  gpointer column, field;

  g_set_object (&self->loaded, record);
  g_hash_table_iter_init (&iter, self->fields);
  while (g_hash_table_iter_next (&iter, &column, &field))
    {
      g_autofree char *text = tpt_record_to_string (record, column, NULL);
      tpt_field_set_text (field, text);
    }
}

/* What does not show for the unit's kind is left as it was. */
gboolean
tpt_record_form_apply (TptRecordForm *self, TptRecord *record)
{
  GHashTableIter iter;
  gpointer field;

  g_hash_table_iter_init (&iter, self->fields);
  while (g_hash_table_iter_next (&iter, NULL, &field))
    if (gtk_widget_get_visible (field) && !tpt_field_apply (field, record))
      return FALSE;
  return TRUE;
}

gboolean
tpt_record_form_is_valid (TptRecordForm *self)
{
  g_autoptr (TptRecord) scratch = self->loaded != NULL ? tpt_record_copy (self->loaded) : tpt_record_new (self->table);
  g_autoptr (GError) error = NULL;
  GHashTableIter iter;
  const char *column = NULL;
  gpointer field;

  g_hash_table_iter_init (&iter, self->fields);
  while (g_hash_table_iter_next (&iter, NULL, &field))
    if (gtk_widget_get_visible (field) && tpt_field_get_error (field) != NULL)
      return FALSE;
  if (!tpt_record_form_apply (self, scratch))
    return FALSE;
  return tpt_record_check (scratch, &column, &error);
}
