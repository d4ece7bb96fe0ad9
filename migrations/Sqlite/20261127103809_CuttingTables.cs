using System;
using Microsoft.EntityFrameworkCore.Migrations;

#nullable disable

namespace Handwheel.Migrations.Sqlite
{
    /// <inheritdoc />
    public partial class CuttingTables : Migration
    {
        /// <inheritdoc />
        protected override void Up(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.CreateTable(
                name: "CuttingTables",
                columns: table => new
                {
                    Number = table
                        .Column<long>(type: "INTEGER", nullable: false)
                        .Annotation("Sqlite:Autoincrement", true),
                    Sha256 = table.Column<string>(type: "TEXT", maxLength: 64, nullable: false),
                    At = table.Column<long>(type: "INTEGER", nullable: false),
                    PersonId = table.Column<Guid>(type: "TEXT", nullable: false),
                    PersonName = table.Column<string>(type: "TEXT", nullable: false),
                    Why = table.Column<string>(type: "TEXT", nullable: false),
                },
                constraints: table =>
                {
                    table.PrimaryKey("PK_CuttingTables", x => x.Number);
                    table.ForeignKey(
                        name: "FK_CuttingTables_Files_Sha256",
                        column: x => x.Sha256,
                        principalTable: "Files",
                        principalColumn: "Sha256",
                        onDelete: ReferentialAction.Restrict
                    );
                }
            );

            migrationBuilder.CreateIndex(name: "IX_CuttingTables_Sha256", table: "CuttingTables", column: "Sha256");
            migrationBuilder.OnlyAppend("CuttingTables");
        }

        /// <inheritdoc />
        protected override void Down(MigrationBuilder migrationBuilder)
        {
            migrationBuilder.DropTable(name: "CuttingTables");
        }
    }
}
